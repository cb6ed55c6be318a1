package advice_test

import (
	"os"
	"testing"

	"brinecut/reuse/advice"
	"brinecut/sorting/binfile"
)

// BenchmarkDrawbridge is the library's part of `sort` and `next` on the shipped bin.
func BenchmarkDrawbridge(b *testing.B) {
	src, err := os.ReadFile("../../testdata/bins/drawbridge.toml")
	if err != nil {
		b.Fatal(err)
	}
	bin, _, err := binfile.Read("drawbridge.toml", src)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := advice.Sort(bin, advice.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
