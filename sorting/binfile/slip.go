package binfile

import (
	"fmt"
	"strings"
	"unicode"
)

// slip finds the usual slips of a hand in a line that is no TOML, where the library only says that
// something else was expected. It looks at what stands outside of quotes and comments.
func slip(line string) (wrong, right string, ok bool) {
	bare := outside(line)
	for _, r := range bare {
		switch {
		case strings.ContainsRune("“”„‟‘’‚«»", r):
			return fmt.Sprintf("%c is none of the quotes that TOML knows", r), `write plain quotes: "…"`, true
		case r == '\ufeff':
			return "a byte-order mark stands inside the file", "delete what cannot be seen at this place, such as where two files were joined", true
		case r > 0x7f && (unicode.IsSpace(r) || unicode.Is(unicode.Cf, r)):
			return fmt.Sprintf("a blank here is no plain one (U+%04X)", r), "delete it and type a plain blank", true
		}
	}
	_, value, _ := strings.Cut(bare, "=")
	value = strings.TrimSpace(value)
	switch {
	case strings.EqualFold(value, "yes"), strings.EqualFold(value, "no"), strings.EqualFold(value, "on"), strings.EqualFold(value, "off"):
		return "this is no value", "write true or false, without quotes", true
	case strings.Contains(value, "//") || strings.Contains(value, "--"):
		return "something stands behind the value", "begin a comment with #", true
	case strings.HasSuffix(value, ";") || strings.HasSuffix(value, ","):
		return fmt.Sprintf("a line does not end with %q", value[len(value)-1]), "leave it out", true
	}
	return "", "", false
}

// outside is a line without what stands in quotes, and without its comment.
func outside(line string) string {
	var b strings.Builder
	for i := 0; i < len(line); i++ {
		switch c := line[i]; c {
		case '#':
			return b.String()
		case '"', '\'':
			i++
			for i < len(line) && line[i] != c {
				if line[i] == '\\' && c == '"' {
					i++
				}
				i++
			}
		default:
			b.WriteByte(c)
		}
	}
	return b.String()
}
