package tabular

import (
	"bufio"
	"bytes"
	"encoding/json"
	"math"
	"strings"
)

// lineWriter writes JSON Lines: an object a row, without what is not there.
type lineWriter struct {
	w    *bufio.Writer
	keys [][]byte // `"name":` of each column
	b    []byte
	at   int // the column that comes next
}

func newLines(w *bufio.Writer, columns []Column) *lineWriter {
	l := &lineWriter{w: w}
	for _, c := range columns {
		l.keys = append(l.keys, append(quoted(c.Title()), ':'))
	}
	return l
}

// quoted is v as JSON, as it is read by people too, on a terminal as well.
func quoted(v any) []byte {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	_ = enc.Encode(v) // texts and refusals can always be written, to a buffer as well
	out, _ := Escape(bytes.TrimSuffix(b.Bytes(), []byte("\n")))
	return out
}

func (l *lineWriter) key() {
	sign := byte(',')
	if len(l.b) == 0 {
		sign = '{'
	}
	l.b = append(append(l.b, sign), l.keys[l.at]...)
}

func (l *lineWriter) Number(x float64) {
	if !math.IsNaN(x) && !math.IsInf(x, 0) {
		l.key()
		l.b = AppendNumber(l.b, x)
	}
	l.at++
}

func (l *lineWriter) Text(s string) {
	switch {
	case s == "":
	case plain(s):
		l.key()
		l.b = append(append(append(l.b, '"'), s...), '"')
	default:
		l.key()
		l.b = append(l.b, quoted(strings.ToValidUTF8(s, "\ufffd"))...)
	}
	l.at++
}

func (l *lineWriter) Words(words []string) {
	l.key()
	l.b = append(l.b, '[')
	for i, word := range words {
		if i > 0 {
			l.b = append(l.b, ',')
		}
		l.b = append(l.b, quoted(word)...)
	}
	l.b = append(l.b, ']')
	l.at++
}

func (l *lineWriter) Refused(err error, data func() any) {
	if err != nil {
		l.key()
		l.b = append(l.b, quoted(data())...)
	}
	l.at++
}

func (l *lineWriter) End() error {
	if len(l.b) == 0 {
		l.b = append(l.b, '{')
	}
	_, err := l.w.Write(append(l.b, "}\n"...))
	l.b, l.at = l.b[:0], 0
	return err
}

func (l *lineWriter) Close([]byte) error { return l.w.Flush() }
