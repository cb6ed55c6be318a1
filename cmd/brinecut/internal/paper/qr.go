package paper

import (
	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/qr"
)

// quiet zone around a code, modules (ISO/IEC 18004).
const quiet = 4

// code makes the QR code of an id, at level Q: a quarter of it may be smeared. ok is false for a text
// that no code takes.
func code(id string) (b barcode.Barcode, ok bool) {
	b, err := qr.Encode(id, qr.Q, qr.Auto)
	return b, err == nil
}

// codeSide is the side of a code with its quiet zone, mm.
func codeSide(b barcode.Barcode, module float64) float64 {
	return float64(b.Bounds().Dx()+2*quiet) * module
}

// code draws a QR code with its quiet zone from the top left corner at x, y. All its squares are one
// path, filled at once: squares filled one by one leave hairlines between them.
func (p *pen) code(b barcode.Barcode, x, y, module float64) {
	n := b.Bounds().Dx()
	black := func(c, r int) bool {
		if c >= n {
			return false
		}
		v, _, _, _ := b.At(c, r).RGBA()
		return v == 0
	}
	for r := 0; r < n; r++ {
		for c := 0; c < n; c++ {
			if !black(c, r) {
				continue
			}
			from := c
			for black(c, r) {
				c++
			}
			left, right := x+float64(quiet+from)*module, x+float64(quiet+c)*module
			top, foot := y+float64(quiet+r)*module, y+float64(quiet+r+1)*module
			p.pdf.MoveTo(left, top)
			p.pdf.LineTo(right, top)
			p.pdf.LineTo(right, foot)
			p.pdf.LineTo(left, foot)
			p.pdf.ClosePath()
		}
	}
	p.pdf.DrawPath("F")
}
