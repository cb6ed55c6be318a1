package polymers

import "testing"

// BenchmarkFirstLookup is what a program pays for the handbook: the table is laid out by the linker, so
// only the index by name is built, once.
func BenchmarkFirstLookup(b *testing.B) {
	for b.Loop() {
		for i := range materials {
			_ = nameKey(string(materials[i].Symbol))
			for _, n := range materials[i].OtherNames {
				_ = nameKey(n)
			}
		}
	}
}

func BenchmarkAll(b *testing.B) {
	for b.Loop() {
		_ = All()
	}
}
