package paper

import (
	"hash/fnv"
	"strings"
)

// digits of ISO 7064 MOD 37,36, in the order of their values.
const digits = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// CheckCharacter of a string of 0-9 and A-Z by ISO 7064:2003, hybrid system MOD 37,36; what else is in
// it, such as a hyphen, is passed over. It finds every single wrong character and almost every swap of
// two neighbours.
func CheckCharacter(s string) byte {
	p := 36
	for i := 0; i < len(s); i++ {
		v := strings.IndexByte(digits, s[i])
		if v < 0 {
			continue
		}
		t := (p + v) % 36
		if t == 0 {
			t = 36
		}
		p = 2 * t % 37
	}
	return digits[(37-p)%36]
}

// longest stem of an id: with plus and check character it fits the smallest QR code at
// level Q, 16 characters (ISO/IEC 18004, table 7).
const longest = 14

// IDs turn names into ids that a QR code and a keyboard take everywhere: capitals, digits and hyphens,
// then a plus and the check character. A name that loses more than case and blanks, is too long, or would read like
// one before it, gets four characters made from the whole name, so that no two are alike. An id does not
// change when names are added behind it.
func IDs(names []string) []string {
	out := make([]string, len(names))
	taken := map[string]bool{}
	for i, name := range names {
		stem, whole := stemOf(name)
		for salt := name; !whole || taken[stem]; salt += "'" {
			stem, whole = shorten(stem, longest-5)+"-"+mark(salt), true
			stem = strings.TrimPrefix(stem, "-")
		}
		taken[stem] = true
		out[i] = stem + "+" + string(CheckCharacter(stem))
	}
	return out
}

// stemOf keeps letters and digits of ASCII; whole reports whether nothing but case, blanks and the usual
// separators was lost.
func stemOf(name string) (stem string, whole bool) {
	var b strings.Builder
	whole = true
	for _, r := range strings.ToUpper(strings.TrimSpace(name)) {
		switch {
		case r < 128 && strings.ContainsRune(digits, r):
			b.WriteRune(r)
		default:
			whole = whole && strings.ContainsRune(" -_.,/", r)
			if s := b.String(); s != "" && !strings.HasSuffix(s, "-") {
				b.WriteByte('-')
			}
		}
	}
	stem = strings.Trim(b.String(), "-")
	return stem, whole && stem != "" && len(stem) <= longest
}

func shorten(s string, n int) string {
	return strings.TrimRight(s[:min(n, len(s))], "-")
}

// mark is four characters from the whole name, FNV-1a.
func mark(name string) string {
	h := fnv.New32a()
	h.Write([]byte(name)) // a hash never fails to write
	n := h.Sum32()
	var out [4]byte
	for i := range out {
		out[i] = digits[n%36]
		n /= 36
	}
	return string(out[:])
}
