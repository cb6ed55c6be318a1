package show

import (
	"strings"
	"testing"
)

// RFC 4180, sections 2.1 (CRLF), 2.6 (commas, quotes and line breaks in quotes) and 2.7 (a quote is
// doubled); formulas are disarmed, figures below zero left as they are.
func TestCSV(t *testing.T) {
	var out strings.Builder
	if err := CSV(&out, [][]string{{"a", `b "c", d`, "-1.5", "=HYPERLINK(1)", "+x", "-y", "@z", ""}}); err != nil {
		t.Fatal(err)
	}
	if want := "a,\"b \"\"c\"\", d\",-1.5,'=HYPERLINK(1),'+x,'-y,'@z,\r\n"; out.String() != want {
		t.Errorf("%q, want %q", out.String(), want)
	}
}
