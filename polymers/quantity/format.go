package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Format writes a value in the unit of its type, as Parse reads it: masses from 1 kg up in kg,
// shares in percent, money without its currency.
func Format[U Unit](v U) string {
	k := kindOf[U]()
	x := float64(v)
	switch k.name {
	case isMass:
		if math.Abs(x) >= 1000 {
			return trim(x/1000, 3) + " kg"
		}
		return trim(x, 2) + " g"
	case "share":
		return trim(x*100, 2) + " %"
	case "density":
		return fmt.Sprintf("%.3f g/cm3", x)
	case "time":
		return formatTime(x)
	}
	return strings.TrimSpace(trim(x, 3) + " " + k.canon)
}

func formatTime(s float64) string {
	switch {
	case s < 120:
		return trim(s, 0) + " s"
	case s < 7200:
		return trim(s/60, 1) + " min"
	}
	return trim(s/3600, 1) + " h"
}

// trim writes x with at most digits decimals and no trailing zeros.
func trim(x float64, digits int) string {
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
