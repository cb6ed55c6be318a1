package show

import "strings"

// Started is the wire form of a new bin file.
type Started struct {
	File    string `json:"file"`
	Example bool   `json:"example"`
}

// Manual is the wire form of the manual pages that were written.
type Manual struct {
	Folder string   `json:"folder"`
	Pages  []string `json:"pages"`
}

// ManualText says where the manual pages are.
func ManualText(p *Page, m Manual) {
	p.Title("wrote " + count(len(m.Pages), "manual page") + " into " + m.Folder)
	p.Title("next: man " + word(m.Folder+"/"+m.Pages[0]))
}

// Recorded is the wire form of what was appended to a bin file.
type Recorded struct {
	File  string `json:"file"`
	Table string `json:"table"` // test, withdrawn or bath
	ID    string `json:"id"`    // of the test; the name of a bath
	Text  string `json:"text"`  // as it stands in the file
}

// RecordedText says what was appended and what to do next.
func RecordedText(p *Page, r Recorded, next string) {
	switch r.Table {
	case "withdrawn":
		p.Title("withdrew " + r.ID + " in " + r.File + ":")
	default:
		p.Title("recorded " + r.Table + " " + r.ID + " in " + r.File + ":")
	}
	for line := range strings.SplitSeq(r.Text, "\n") {
		p.print("    " + Clean(line))
	}
	p.Title("next: " + next)
}
