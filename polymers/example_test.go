package polymers_test

import (
	"errors"
	"fmt"

	"brinecut/polymers"
)

func ExampleLookup() {
	for _, name := range []string{"nylon 12", "pla+", "PETG-CF20", "PEGT"} {
		sym, err := polymers.Lookup(name)
		fmt.Println(sym, err)
	}
	// Output:
	// PA12 <nil>
	// PLA-tough <nil>
	// PETG-CF <nil>
	//  unknown material "PEGT"; nearest known is PETG
}

func ExampleReadMarking() {
	m, _ := polymers.ReadMarking(">PA 66-GF 30<") // as VDA 260 writes it
	fmt.Println(m.Text, m.Polymers, m.Fillers[0].Symbol, *m.Fillers[0].Percent)

	_, err := polymers.ReadMarking(">PA66-(GF25 + MD15)<")
	var e *polymers.MarkingError
	if errors.As(err, &e) {
		fmt.Println(e.Caret())
	}
	// Output:
	// >PA66-GF30< [PA66] GF 30
	// >PA66-(GF25 + MD15)<
	//            ^
}
