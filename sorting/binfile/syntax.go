package binfile

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// decode turns the bytes into values with places; false where the text is not TOML 1.0.
func (r *reader) decode(src []byte) bool {
	if !r.encoding(src) {
		return false
	}
	r.src = trimMark(string(src))
	var followed bool
	r.scan, followed = scan(r.src)
	if r.scan.tooFar >= 0 {
		r.fault(Fault{Line: r.scan.line(r.scan.tooFar), Wrong: fmt.Sprintf("this is nested more than %d deep", maxDepth),
			Right: "a bin file needs no table inside a table inside a table"})
		return false
	}
	var values map[string]any
	if _, err := toml.Decode(r.src, &values); err != nil {
		r.syntax(err)
		return false
	}
	for _, n := range r.scan.newer {
		what, right, _ := strings.Cut(n.what, "; ")
		r.fault(Fault{Line: r.scan.line(n.at), Wrong: "TOML 1.0 does not have " + what, Right: right})
	}
	if !followed {
		r.fault(Fault{Line: r.scan.line(r.scan.pos), Wrong: "this cannot be followed", Right: "write it more plainly, one key a line"})
	}
	r.top = &table{r: r, at: r.scan.root, values: values}
	return len(r.faults) == 0
}

// encoding refuses bytes that are not UTF-8.
func (r *reader) encoding(src []byte) bool {
	const right = "save it as UTF-8 in the editor"
	if bytes.HasPrefix(src, []byte{0xff, 0xfe}) || bytes.HasPrefix(src, []byte{0xfe, 0xff}) {
		r.fault(Fault{Line: 1, Wrong: "the file is in UTF-16", Right: right})
		return false
	}
	for line := 1; len(src) > 0; line++ {
		end := bytes.IndexByte(src, '\n') + 1
		if end == 0 {
			end = len(src)
		}
		if !utf8.Valid(src[:end]) {
			r.fault(Fault{Line: line, Wrong: "this line is not in UTF-8", Read: strings.TrimSpace(strings.ToValidUTF8(string(src[:end]), "�")), Right: right})
			return false
		}
		src = src[end:]
	}
	return true
}

// hints turn the library's short messages into what to do; the first that fits is taken.
var hints = []struct{ part, wrong, right string }{
	{"already been defined", "this is given a second time", "keep one of the two"},
	{"already created", "this is given a second time, once as a value and once as a table", "keep one of the two"},
	{"strings cannot contain newlines", "a text is not closed on its line", `end it with a quote: key = "…"`},
	{"control character", "there is a character that cannot be seen", "leave it out; line ends are LF or CR LF"},
	{"NULL bytes", "there is a zero byte in the file", "save it as UTF-8 in the editor"},
	{"unexpected EOF", "the file ends in the middle of something", "close it with the quote or bracket it began with"},
	{"out of range", "this number is too large", `write a smaller one; a quantity stands in quotes, such as "6.52 kg"`},
	{"key name appears blank", "there is no key before =", "write key = value"},
	{"to end table name", "a table's header is not closed", "write [name] or [[name]] on a line of its own"},
	{"table array name", "a table's header is not closed", "write [name] or [[name]] on a line of its own"},
	{"table name cannot be blank", "a table's header has no name", "write [name] or [[name]] on a line of its own"},
	{"expected '.' or '='", "there is no = after the key", "write key = value; a text with a blank in it is in quotes"},
	{"array terminator", "a list is not closed, or misses a comma", "write [ a, b ]"},
	{"inline table terminator", "a { } is not closed, or misses a comma", "write { a = 1, b = 2 } on one line"},
	{"end with a newline", "something stands behind the value", `put text and quantities in quotes, such as mass = "1.82 kg", and one key on a line`},
	{"invalid escape", `a \ begins something that TOML does not have`, `write \\ for a backslash, or the text in single quotes`},
	{"expected value", "there is no value here that TOML knows", `put text and quantities in quotes, such as mass = "1.82 kg"; true and false are written small`},
	{"Invalid integer", "this is not a number", `put text and quantities in quotes, such as mass = "1.82 kg"`},
	{"Invalid float", "this is not a number", `put text and quantities in quotes, such as mass = "1.82 kg"`},
}

// syntax reports an error of the TOML itself, with its line and a plain hint.
func (r *reader) syntax(err error) {
	var pe toml.ParseError
	if !errors.As(err, &pe) {
		r.fault(Fault{Line: 1, Wrong: "the file cannot be read as TOML: " + err.Error(), Right: "see the form of a bin file"})
		return
	}
	at := min(max(pe.Position.Start, 0), len(r.src))
	f := Fault{Line: r.scan.line(at), Key: pe.LastKey, Wrong: pe.Message, Right: "see the form of a bin file"}
	for _, h := range hints {
		if strings.Contains(pe.Message, h.part) {
			f.Wrong, f.Right = h.wrong, h.right
			break
		}
	}
	if strings.Contains(pe.Message, "EOF") && r.scan.open >= 0 {
		f.Line = r.scan.line(r.scan.open)
	}
	for _, a := range r.scan.again {
		if strings.Contains(pe.Message, "already") && r.scan.line(a.at) == f.Line {
			f.Wrong += fmt.Sprintf(", first on line %d", r.scan.line(a.first))
			break
		}
	}
	if line := r.scan.starts[f.Line-1:]; len(line) > 0 {
		text, _, _ := strings.Cut(r.src[line[0]:], "\n")
		f.Read = strings.TrimSpace(text)
		if wrong, right, ok := slip(text); ok && slippery(pe.Message) {
			f.Wrong, f.Right = wrong, right
		}
	}
	r.fault(f)
}

// slippery reports a message that says no more than that something else was expected.
func slippery(message string) bool {
	return !strings.Contains(message, "unexpected EOF") && (strings.Contains(message, "expected '.' or '='") || strings.Contains(message, "end with a newline") || strings.Contains(message, "expected value"))
}

// trimMark takes a byte-order mark off, which some editors put before UTF-8.
func trimMark(s string) string { return strings.TrimPrefix(s, "\ufeff") }
