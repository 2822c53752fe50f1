package reckon

import (
	"bytes"
	"encoding/json"
	"strings"
)

// Filled returns the JSON of a form that a person fills in with a text editor. Two things are taken out:
//
//   - a note: a line whose first sign is #,
//   - what is not filled in: a text that starts with ?, with its name, and a part or an item of a list that held nothing else.
//
// A value that must be there and was not filled in is then missing, and is told as such. A text that is no JSON, even so,
// comes back without its notes alone, for [Decode] to say what is wrong with it.
func Filled(data []byte) []byte {
	if len(data) > maxInput {
		return data // too long to be read at all
	}
	if bytes.IndexByte(data, '#') >= 0 {
		data = withoutNotes(data)
	}
	if !bytes.Contains(data, []byte(`"?`)) {
		return data
	}
	f := filling{data: data, dec: json.NewDecoder(bytes.NewReader(data))}
	text, _, ok := f.value()
	if !ok {
		return data
	}
	return append(text, data[f.dec.InputOffset():]...)
}

// withoutNotes empties the lines that are notes: what stands below keeps its line.
func withoutNotes(data []byte) []byte {
	out := make([]byte, 0, len(data))
	for row := range bytes.Lines(data) {
		switch {
		case !bytes.HasPrefix(bytes.TrimLeft(row, " \t"), []byte("#")):
			out = append(out, row...)
		case bytes.HasSuffix(row, []byte("\n")):
			out = append(out, '\n')
		}
	}
	return out
}

// filling reads a form.
type filling struct {
	data []byte
	dec  *json.Decoder
	deep int
}

// value returns the text of the next value without what is not filled in, and whether anything of it is.
func (f *filling) value() (text []byte, filled, ok bool) {
	token, text, ok := f.token()
	if !ok {
		return nil, false, false
	}
	switch t := token.(type) {
	case json.Delim:
		return f.inside(t)
	case string:
		return text, !strings.HasPrefix(t, "?"), true
	}
	return text, true, true
}

// token returns the next token with its text.
func (f *filling) token() (json.Token, []byte, bool) {
	from := f.dec.InputOffset()
	token, err := f.dec.Token()
	if err != nil {
		return nil, nil, false
	}
	return token, bytes.TrimLeft(f.data[from:f.dec.InputOffset()], " \t\r\n,:"), true
}

// inside returns a part or a list with what of it is filled in. One that was empty from the start was filled in so.
func (f *filling) inside(opening json.Delim) (text []byte, filled, ok bool) {
	if f.deep++; f.deep > maxDepth {
		return nil, false, false
	}
	had, kept := 0, 0
	text = append(text, byte(opening))
	for ; f.dec.More(); had++ {
		before := len(text)
		if kept > 0 {
			text = append(text, ',')
		}
		if opening == '{' {
			_, name, ok := f.token()
			if !ok {
				return nil, false, false
			}
			text = append(append(text, name...), ':')
		}
		value, is, ok := f.value()
		if !ok {
			return nil, false, false
		}
		if !is {
			text = text[:before]
			continue
		}
		text = append(text, value...)
		kept++
	}
	if _, _, ok := f.token(); !ok {
		return nil, false, false
	}
	f.deep--
	return append(text, byte(opening)+2), had == 0 || kept > 0, true
}
