package show

import (
	"strings"

	"brinecut/polymers"
)

type bibliographic struct {
	ID     string `json:"id"`
	Author string `json:"author"`
	Title  string `json:"title"`
	Year   string `json:"year"`
	Where  string `json:"where"`
	Read   string `json:"read"`
}

// SourcesJSON is the wire form of the bibliography.
func SourcesJSON(list []polymers.Source) any {
	out := make([]bibliographic, len(list))
	for i, s := range list {
		out[i] = bibliographic(s)
	}
	return out
}

// Sources writes the bibliography, and how each was read.
func Sources(p *Page, list []polymers.Source) {
	read := map[string]string{"page": "read", "abstract": "abstract or snippet alone", "none": "nothing published"}
	for _, s := range list {
		var parts []string
		for _, x := range []string{s.Author, s.Title, s.Year, s.Where} {
			if x != "" {
				parts = append(parts, x)
			}
		}
		p.Item("-", strings.Join(parts, ", ")+" ("+read[s.Read]+")")
	}
}
