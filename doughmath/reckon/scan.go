package reckon

import (
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// scanner walks over JSON text as RFC 8259 defines it. After the first thing
// that is not JSON its syntax says what and where, and every method returns false.
type scanner struct {
	data   string
	at     int
	depth  int
	syntax string
}

func (s *scanner) broken(why string) bool {
	if s.syntax == "" {
		before := s.data[:s.at]
		start := strings.LastIndexByte(before, '\n') + 1
		s.syntax = "not JSON at line " + strconv.Itoa(1+strings.Count(before, "\n")) +
			", column " + strconv.Itoa(1+utf8.RuneCountInString(before[start:])) + " (" + why + ")"
	}
	return false
}

func (s *scanner) space() {
	for s.at < len(s.data) {
		switch s.data[s.at] {
		case ' ', '\t', '\n', '\r':
			s.at++
		default:
			return
		}
	}
}

func (s *scanner) peek() (byte, bool) {
	s.space()
	if s.at == len(s.data) {
		return 0, s.broken("it ends too early")
	}
	return s.data[s.at], true
}

func (s *scanner) atEnd() bool {
	s.space()
	return s.at == len(s.data)
}

func (s *scanner) take(want byte) bool {
	got, ok := s.peek()
	if !ok {
		return false
	}
	if got != want {
		return s.broken("want " + strconv.QuoteRune(rune(want)))
	}
	s.at++
	return true
}

// enter steps over an opening bracket, leave undoes its depth.
func (s *scanner) enter() bool {
	if s.depth == maxDepth {
		return s.broken("nested more than " + strconv.Itoa(maxDepth) + " deep")
	}
	s.depth++
	s.at++
	return true
}

func (s *scanner) leave() { s.depth-- }

// first reports whether an item follows the opening bracket; another whether
// one follows the last item. Both step over the closing bracket otherwise.
func (s *scanner) first(closing byte) bool {
	got, ok := s.peek()
	if ok && got == closing {
		s.at++
		return false
	}
	return ok
}

func (s *scanner) another(closing byte) bool {
	switch got, _ := s.peek(); {
	case got == closing:
		s.at++
		return false
	case got != ',':
		return s.broken("want a comma or " + strconv.QuoteRune(rune(closing)))
	}
	s.at++
	return true
}

// name reads a member's name and the colon after it.
func (s *scanner) name() (string, bool) {
	if got, _ := s.peek(); got != '"' {
		return "", s.broken("want a name in double quotes")
	}
	name, ok := s.text()
	return name, ok && s.take(':')
}

// skip steps over one value and returns its text.
func (s *scanner) skip() (string, bool) {
	first, ok := s.peek()
	if !ok {
		return "", false
	}
	start := s.at
	switch first {
	case '{', '[':
		ok = s.skipInside(first)
	case '"':
		_, ok = s.text()
	case 't':
		ok = s.literal("true")
	case 'f':
		ok = s.literal("false")
	case 'n':
		ok = s.literal("null")
	default:
		ok = s.number()
	}
	return s.data[start:s.at], ok
}

func (s *scanner) skipInside(opening byte) bool {
	if !s.enter() {
		return false
	}
	closing := opening + 2 // '{' and '}', '[' and ']' stand two apart
	for more := s.first(closing); more; more = s.another(closing) {
		if opening == '{' {
			if _, ok := s.name(); !ok {
				return false
			}
		}
		if _, ok := s.skip(); !ok {
			return false
		}
	}
	s.leave()
	return s.syntax == ""
}

func (s *scanner) literal(word string) bool {
	if !strings.HasPrefix(s.data[s.at:], word) {
		return s.broken("a word that is not true, false or null")
	}
	s.at += len(word)
	return true
}

func (s *scanner) digits() bool {
	start := s.at
	for s.at < len(s.data) && s.data[s.at] >= '0' && s.data[s.at] <= '9' {
		s.at++
	}
	return s.at > start
}

func (s *scanner) is(set string) bool {
	if s.at < len(s.data) && strings.IndexByte(set, s.data[s.at]) >= 0 {
		s.at++
		return true
	}
	return false
}

func (s *scanner) number() bool {
	s.is("-")
	if !s.is("0") && !s.digits() {
		return s.broken("want a value")
	}
	if s.is(".") && !s.digits() {
		return s.broken("want digits after the point")
	}
	if s.is("eE") {
		s.is("+-")
		if !s.digits() {
			return s.broken("want digits in the exponent")
		}
	}
	return true
}

// text reads a text in quotes and resolves its escapes.
func (s *scanner) text() (string, bool) {
	s.at++
	start, plain := s.at, true
	for s.at < len(s.data) {
		switch c := s.data[s.at]; {
		case c == '"':
			text, ok := s.data[start:s.at], true
			if !plain {
				text, ok = unquote(text)
			}
			if !ok {
				return "", s.broken("an escape or a character that is not Unicode text")
			}
			s.at++
			return text, true
		case c < ' ':
			return "", s.broken("a control character inside quotes")
		case c == '\\':
			plain = false
			s.at++
		case c >= utf8.RuneSelf:
			plain = false
		}
		s.at++
	}
	s.at = len(s.data) // a backslash at the end steps over it
	return "", s.broken("a quote is not closed")
}

// unquote resolves the escapes of what stands between quotes. It returns false
// if that is not text: the standard decoder would put replacement characters
// in, and two different names could become the same.
func unquote(inside string) (string, bool) {
	if !utf8.ValidString(inside) {
		return "", false
	}
	slash := strings.IndexByte(inside, '\\')
	if slash < 0 {
		return inside, true
	}
	out := append(make([]byte, 0, len(inside)), inside[:slash]...)
	for i := slash; i < len(inside); {
		c := inside[i]
		if c != '\\' {
			out = append(out, c)
			i++
			continue
		}
		if i+1 == len(inside) {
			return "", false
		}
		switch e := inside[i+1]; e {
		case '"', '\\', '/':
			out = append(out, e)
		case 'b':
			out = append(out, '\b')
		case 'f':
			out = append(out, '\f')
		case 'n':
			out = append(out, '\n')
		case 'r':
			out = append(out, '\r')
		case 't':
			out = append(out, '\t')
		case 'u':
			r, ok := hex4(inside[i:])
			if !ok {
				return "", false
			}
			if utf16.IsSurrogate(r) {
				low, _ := hex4(inside[i+6:]) // of none that makes no character either
				if r = utf16.DecodeRune(r, low); r == utf8.RuneError {
					return "", false
				}
				i += 6
			}
			out = utf8.AppendRune(out, r)
			i += 4
		default:
			return "", false
		}
		i += 2
	}
	return string(out), true
}

// hex4 reads \uXXXX at the start of s.
func hex4(s string) (rune, bool) {
	if len(s) < 6 || s[0] != '\\' || s[1] != 'u' {
		return 0, false
	}
	var r rune
	for _, c := range []byte(s[2:6]) {
		switch {
		case c >= '0' && c <= '9':
			c -= '0'
		case c >= 'a' && c <= 'f':
			c -= 'a' - 10
		case c >= 'A' && c <= 'F':
			c -= 'A' - 10
		default:
			return 0, false
		}
		r = r<<4 | rune(c)
	}
	return r, true
}
