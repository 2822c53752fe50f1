package tabular

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// obeyed tells whether a terminal, or whatever else shows text, may obey the sign rather than
// show it: control characters, and those that turn the direction of writing. Line breaks and tabs only lay it out.
func obeyed(r rune) bool {
	return r != '\n' && r != '\t' && (unicode.Is(unicode.C, r) || r == '\u2028' || r == '\u2029')
}

// Harmless replaces every sign that a terminal would obey rather than show, line
// breaks too if the text stands in a line.
func Harmless(s string, lines bool) string {
	bad := func(r rune) bool { return r == utf8.RuneError || obeyed(r) || !lines && (r == '\n' || r == '\t') }
	if strings.IndexFunc(s, bad) < 0 {
		return s
	}
	return strings.Map(func(r rune) rune {
		if bad(r) {
			return utf8.RuneError
		}
		return r
	}, s)
}

// Escape writes every sign that a terminal would obey as JSON does, such as \u001b. In the texts of a JSON document
// it is the same sign to whoever reads them; anywhere else it is shown. It returns b itself if there is none. What is
// cut off in the middle of a letter at the end of b comes back as rest.
func Escape(b []byte) (out, rest []byte) {
	kept := 0 // how much of b is in out
	for i := 0; i < len(b); {
		if c := b[i]; c >= ' ' && c < 0x7f || c == '\n' || c == '\t' {
			i++
			continue
		}
		r, size := utf8.DecodeRune(b[i:])
		wrong := r == utf8.RuneError && size == 1
		if wrong && !utf8.FullRune(b[i:]) {
			rest = b[i:]
			b = b[:i]
			break
		}
		if wrong || obeyed(r) {
			out = append(out, b[kept:i]...)
			if high, low := utf16.EncodeRune(r); high != utf8.RuneError {
				out = fmt.Appendf(out, `\u%04x\u%04x`, high, low)
			} else {
				out = fmt.Appendf(out, `\u%04x`, r)
			}
			kept = i + size
		}
		i += size
	}
	if kept == 0 {
		return b, rest
	}
	return append(out, b[kept:]...), rest
}
