package polymers

import (
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// Resin identification codes of ASTM D7611/D7611M-20. A code names the resin and nothing more.
var resinCodes = []struct {
	code    string
	words   []string // as they stand under the number
	symbols []Symbol
}{
	{"1", []string{"PET", "PETE"}, []Symbol{"PET"}},
	{"2", []string{"HDPE", "PE-HD"}, []Symbol{"PE-HD"}},
	{"3", []string{"V", "PVC"}, []Symbol{"PVC-U", "PVC-P"}},
	{"4", []string{"LDPE", "PE-LD"}, []Symbol{"PE-LD"}},
	{"5", []string{"PP"}, []Symbol{"PP"}},
	{"6", []string{"PS"}, []Symbol{"PS", "HIPS"}},
	{"7", []string{"OTHER", "O"}, nil},
}

var reCode = regexp.MustCompile(`^(?:(?:([A-Z][A-Z-]*)[ -]?)?0?([1-7])|0?([1-7])[ -]?([A-Z][A-Z-]*)|(PETE|HDPE|LDPE|V|OTHER))$`)

const codeNote = "a resin identification code (ASTM D7611): it names the resin and claims nothing about what becomes of it"

// readCode reads a resin identification code, with or without its word; false where the text is none.
func readCode(text string) (Marking, bool, error) {
	t := strings.TrimSpace(text)
	if _, known := termAt(t, 0); known && strings.HasPrefix(t, "PA") { // "PA 6" is polyamide 6, not polystyrene
		return Marking{}, false, nil
	}
	g := reCode.FindStringSubmatch(t)
	if g == nil {
		return Marking{}, false, nil
	}
	word, number := g[1]+g[4]+g[5], g[2]+g[3]
	for _, c := range resinCodes {
		match := slices.Contains(c.words, word)
		if number == c.code && (word == "" || match) || number == "" && match {
			return codeMarking(text, c.code, c.symbols), true, nil
		}
		if match && number != "" {
			return Marking{}, true, &MarkingError{Text: text, Column: 1 + utf8.RuneCountInString(text[:strings.IndexAny(text, "1234567")]),
				Fault: "code " + number + " does not go with " + word, Right: word + " has code " + c.code}
		}
	}
	if number == "7" { // practice in some places: 7 with the resin's own term
		sym, known := termAt(word, 0)
		m := codeMarking(text, "7", nil)
		if known {
			m.Polymers = []Symbol{sym.symbol}
		}
		return m, known || word == "PA", nil
	}
	return Marking{}, false, nil
}

func codeMarking(text, code string, symbols []Symbol) Marking {
	m := Marking{Text: strings.TrimSpace(text), Polymers: append([]Symbol(nil), symbols...), Code: code, Notes: []string{codeNote}}
	switch code {
	case "1":
		m.Notes = append(m.Notes, "glycol-modified PET has carried a 1 in places; it clumps among PET flake and goes with 7 in California since 2018")
	case "3":
		m.Notes = append(m.Notes, "PVC: never heated")
	case "7":
		m.Notes = append(m.Notes, "7 is any other resin or a multilayer: PLA, PETG, ABS, PC, PA and the rest are not told apart by it")
	}
	return m
}

// resinCodeOf gives the code that names a single unfilled polymer; "7" for all others.
func resinCodeOf(ps []Symbol, filled bool) string {
	if len(ps) != 1 || filled {
		return "7"
	}
	for _, c := range resinCodes {
		if slices.Contains(c.symbols, ps[0]) {
			return c.code
		}
	}
	return "7"
}

// flameRetardants are codes of ISO 1043-4; page says which were seen on a page, the rest is from memory.
var flameRetardants = map[string]struct {
	words string
	page  bool
}{
	"14": {"aliphatic or alicyclic brominated compounds", true}, "15": {"aliphatic or alicyclic brominated compounds with antimony", true},
	"16": {"aromatic brominated compounds, no brominated diphenyl ether or biphenyls", false}, "17": {"aromatic brominated compounds, no brominated diphenyl ether or biphenyls, with antimony", false},
	"18": {"polybrominated diphenyl ether", false}, "19": {"polybrominated diphenyl ether with antimony", false}, "20": {"polybrominated biphenyls", false},
	"23": {"hexabromocyclododecane", true}, "24": {"hexabromocyclododecane with antimony", true}, "30": {"nitrogen compounds", false},
	"40": {"halogen-free organic phosphorus compounds", false}, "41": {"chlorinated organic phosphorus compounds", false}, "42": {"brominated organic phosphorus compounds", false},
	"50": {"ammonium orthophosphates", false}, "51": {"ammonium polyphosphates", false}, "52": {"red phosphorus", false},
	"60": {"aluminium hydroxide", false}, "61": {"magnesium hydroxide", false}, "62": {"antimony(III) oxide", false}, "72": {"zinc borate", false},
	"75": {"inorganic silicon compounds", true}, "76": {"organic silicon compounds", true}, "80": {"graphite", false},
}

func flameRetardantNote(code string) string {
	f, ok := flameRetardants[code]
	switch {
	case ok && f.page:
		return "FR(" + code + "): " + f.words + "; never heated"
	case ok:
		return "FR(" + code + "): " + f.words + " (from memory of ISO 1043-4); never heated"
	case code >= "10" && code <= "29":
		return "FR(" + code + "): a halogenated compound, which one is not known here; never heated"
	}
	return "FR(" + code + "): meaning not known here; never heated"
}
