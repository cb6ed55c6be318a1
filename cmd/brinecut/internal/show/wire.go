package show

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"strconv"

	"brinecut/sorting"
)

// JSON writes a wire value, indented, with a line end.
func JSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// number is a figure on the wire: eight significant digits, and null for what is no number, so that no
// reader ever meets a NaN or an infinity.
type number float64

func (n number) MarshalJSON() ([]byte, error) {
	x := float64(n)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return []byte("null"), nil
	}
	x, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 7, 64), 64)
	if err != nil {
		return nil, err
	}
	if x == 0 {
		x = 0 // no minus zero
	}
	return json.Marshal(x)
}

// some gives the figure behind a pointer; null where there is none.
func some(x *float64) *number {
	if x == nil {
		return nil
	}
	n := number(*x)
	return &n
}

// estimate is a mean with the ends that hold 90 %.
type estimate struct {
	Mean number `json:"mean"`
	Low  number `json:"low"`
	High number `json:"high"`
}

func estimateOf(r sorting.Range) estimate {
	return estimate{number(r.Mean), number(r.Low), number(r.High)}
}

// grams is an estimate of a mass.
type grams struct {
	Mean number `json:"mean_g"`
	Low  number `json:"low_g"`
	High number `json:"high_g"`
}

func gramsOf(r sorting.Range) grams { return grams{number(r.Mean), number(r.Low), number(r.High)} }

// object is a JSON object that keeps the order of its members.
type object []member

type member struct {
	Key   string
	Value any
}

func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := json.Marshal(m.Key)
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		v := json.NewEncoder(&b)
		v.SetEscapeHTML(false)
		if err := v.Encode(m.Value); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// shares rounds shares to six decimals so that they still sum to one: what rounding left over goes to
// the largest.
func shares(x []float64) []number {
	out := make([]number, len(x))
	total, largest := 0, 0
	for i, v := range x {
		n := int(math.Round(v * 1e6))
		total += n
		out[i] = number(n)
		if v > x[largest] {
			largest = i
		}
	}
	for i := range out {
		n := float64(out[i])
		if i == largest && total > 0 {
			n += float64(1000000 - total)
		}
		out[i] = number(n / 1e6)
	}
	return out
}

// nonNil gives an empty list for none, which is [] on the wire and not null.
func nonNil[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}
