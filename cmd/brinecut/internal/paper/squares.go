package paper

import (
	"fmt"

	"github.com/boombuler/barcode/qr"
)

// Squares gives the modules of a QR code of a text, true where dark, with the quiet zone that ISO/IEC
// 18004 asks for round it: for a screen, where nothing smears it (level M). The error is for a text
// that no code takes.
func Squares(text string) ([][]bool, error) {
	b, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		return nil, fmt.Errorf("no code takes this text: %w", err)
	}
	n := b.Bounds().Dx()
	out := make([][]bool, n+2*quiet)
	for y := range out {
		out[y] = make([]bool, n+2*quiet)
		for x := range out[y] {
			if y < quiet || x < quiet || y >= n+quiet || x >= n+quiet {
				continue
			}
			v, _, _, _ := b.At(x-quiet, y-quiet).RGBA()
			out[y][x] = v == 0
		}
	}
	return out, nil
}
