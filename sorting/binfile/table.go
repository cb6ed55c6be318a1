package binfile

import (
	"fmt"
	"slices"
	"strings"
)

// table is one table of the file while it is read. Every key asked for is a key the format has; done
// refuses the others.
type table struct {
	r      *reader
	head   string // "[[lot]]", "[bin]"; empty for the top of the file
	within string // "into." where keys are of a table inside the table
	at     *place
	values map[string]any
	asked  []string
	wants  []want
}

// want is a key, or one of several, that has to be there.
type want struct {
	keys         []string
	wrong, right string
}

// cell is a value with its place; it holds whatever the file has there.
type cell struct {
	t   *table
	key string
	v   any
	at  *place
}

// cell gives the value of a key, and whether it is there.
func (t *table) cell(key string) (cell, bool) {
	t.ask(key)
	v, ok := t.values[key]
	if !ok {
		return cell{}, false
	}
	at := t.at
	if p := t.at.fields[key]; p != nil {
		at = p
	}
	return cell{t: t, key: key, v: v, at: at}, true
}

// ask makes keys known to the table.
func (t *table) ask(keys ...string) {
	for _, k := range keys {
		if !slices.Contains(t.asked, k) {
			t.asked = append(t.asked, k)
		}
	}
}

func (t *table) has(key string) bool {
	_, ok := t.values[key]
	return ok
}

// line of the table's header.
func (t *table) line() int { return t.r.scan.line(t.at.at) }

// lineOf a key, or of the header where the key is not there.
func (t *table) lineOf(key string) int {
	if p := t.at.fields[key]; p != nil {
		return t.r.scan.line(p.at)
	}
	return t.line()
}

func (t *table) keyName(key string) string {
	switch {
	case t.head == "":
		return t.within + key
	case key == "":
		return strings.TrimRight(t.head+" "+t.within, " .")
	}
	return t.head + " " + t.within + key
}

// refuse reports a fault at a key; what was read is the key's text.
func (t *table) refuse(key, wrong, right string) {
	read := ""
	if p := t.at.fields[key]; p != nil {
		read = t.r.text(p)
	}
	t.r.fault(Fault{Line: t.lineOf(key), Key: t.keyName(key), Wrong: wrong, Read: read, Right: right})
}

func (c cell) refuse(wrong, right string) {
	c.t.r.fault(Fault{Line: c.t.r.scan.line(c.at.at), Key: c.t.keyName(c.key), Wrong: wrong, Read: c.t.r.text(c.at), Right: right})
}

// mistyped refuses a value of the wrong type.
func (c cell) mistyped(wanted, right string) {
	c.refuse(typeOf(c.v)+", where "+wanted+" is wanted", right)
}

func typeOf(v any) string {
	switch v.(type) {
	case string:
		return "this is text"
	case int64, float64:
		return "this is a bare number"
	case bool:
		return "this is true or false"
	case map[string]any:
		return "this is a table"
	case []any, []map[string]any:
		return "this is a list"
	}
	return "this is a date or a time"
}

// need asks for one of the keys; wrong and right are said where none of them is there.
func (t *table) need(wrong, right string, keys ...string) {
	t.wants = append(t.wants, want{keys, wrong, right})
}

// must asks for each of the keys.
func (t *table) must(keys ...string) {
	for _, k := range keys {
		t.need(fmt.Sprintf("%q is missing", k), fmt.Sprintf("write a line `%s = …`", k), k)
	}
}

// done refuses the keys the format does not have, and says what is missing. A missing key that an
// unknown one was probably meant to be is not said twice.
func (t *table) done() {
	var meant []string
	for _, key := range t.unknown() {
		near := nearest(key, t.open())
		meant = append(meant, near)
		t.r.fault(Fault{Line: t.lineOf(key), Key: t.keyName(key), Wrong: "there is no such " + t.whatIs(key), Read: key, Right: t.rightKey(key, near)})
	}
	for _, w := range t.wants {
		if !slices.ContainsFunc(w.keys, func(k string) bool { return t.has(k) || slices.Contains(meant, k) }) {
			t.r.fault(Fault{Line: t.line(), Key: t.keyName(""), Wrong: w.wrong, Right: w.right})
		}
	}
}

// whatIs an unknown word: a table where it stands under a header of its own, else a key.
func (t *table) whatIs(key string) string {
	switch t.values[key].(type) {
	case map[string]any, []map[string]any:
		if t.head == "" {
			return "table"
		}
	}
	return "key"
}

// rightKey says what would be right in place of an unknown key.
func (t *table) rightKey(key, near string) string {
	switch {
	case near != "":
		return "did you mean " + quoted(near) + "?"
	case t.head != "" && slices.Contains(topKeys, key):
		return "write it at the top of the file, above every table"
	case t.head == "":
		return "the file has " + strings.Join(t.asked, ", ")
	}
	return "keys here are " + strings.Join(t.asked, ", ")
}

// open are the words that an unknown one can stand for: tables may stand several times, keys may not.
func (t *table) open() []string {
	if t.head == "" {
		return t.asked
	}
	return t.free()
}

// free are the keys asked for that the table does not have yet.
func (t *table) free() []string {
	var free []string
	for _, k := range t.asked {
		if !t.has(k) {
			free = append(free, k)
		}
	}
	return free
}

// unknown are the keys nobody asked for, in the order of the file.
func (t *table) unknown() []string {
	var keys []string
	for k := range t.values {
		if !slices.Contains(t.asked, k) {
			keys = append(keys, k)
		}
	}
	slices.SortFunc(keys, func(a, b string) int {
		if d := t.offset(a) - t.offset(b); d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
	return keys
}

func (t *table) offset(key string) int {
	if p := t.at.fields[key]; p != nil {
		return p.at
	}
	return t.at.at
}

// one gives the table of that name inside t, nil where it is not there or is something else.
func (t *table) one(key string) *table {
	c, ok := t.cell(key)
	if !ok {
		return nil
	}
	head, within := t.head, t.within+key+"."
	if t.head == "" {
		head, within = "["+key+"]", ""
	}
	switch v := c.v.(type) {
	case map[string]any:
		return &table{r: t.r, head: head, within: within, at: c.at, values: v}
	case []any, []map[string]any:
		at := c.at
		if len(at.items) > 0 {
			at = at.items[0]
		}
		t.r.fault(Fault{Line: t.r.scan.line(at.at), Key: t.keyName(key), Wrong: "this is a list, and only one table is wanted",
			Read: t.r.text(c.at), Right: "write " + once(head, key)})
	default:
		c.mistyped("a table", "write "+once(head, key))
	}
	return nil
}

func once(head, key string) string {
	if head == "["+key+"]" {
		return fmt.Sprintf("`%s` on a line of its own, with its keys below", head)
	}
	return fmt.Sprintf("`%s = { … }`", key)
}

// called is what an entry of a table is called in messages.
var called = map[string]string{"lot": "lot", "known": "known snippet", "bath": "bath", "scale": "scale", "test": "test", "into": "lot", "split": "lot", "merge": "lot"}

// many gives the repeated tables of that name inside t.
func (t *table) many(key string) []*table {
	c, ok := t.cell(key)
	if !ok {
		return nil
	}
	head, within := t.head, t.within+key+"."
	right := fmt.Sprintf("write `%s = [ { … }, { … } ]`", key)
	if t.head == "" {
		head, within, right = "[["+key+"]]", "", fmt.Sprintf("write `[[%s]]` on a line of its own, with the keys below", key)
	}
	items, ok := list(c.v)
	if !ok {
		c.refuse(typeOf(c.v)+", and this one can stand several times", right)
		t.r.vague[called[key]] = true
		return nil
	}
	var out []*table
	for i, v := range items {
		at := c.at
		if i < len(c.at.items) {
			at = c.at.items[i]
		}
		m, ok := v.(map[string]any)
		if !ok {
			cell{t: t, key: key, v: v, at: at}.mistyped("a table", right)
			t.r.vague[called[key]] = true
			continue
		}
		out = append(out, &table{r: t.r, head: head, within: within, at: at, values: m})
	}
	return out
}

// list gives the items of either form in which the library hands over an array.
func list(v any) ([]any, bool) {
	switch v := v.(type) {
	case []any:
		return v, true
	case []map[string]any:
		out := make([]any, len(v))
		for i := range v {
			out[i] = v[i]
		}
		return out, true
	}
	return nil, false
}
