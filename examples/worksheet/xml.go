package main

import (
	"bytes"
	"encoding/xml"
	"strconv"
)

// An element is one element of an XML document. Its text stands before its
// children, and everything is escaped when it is written.
type element struct {
	name       string
	attributes []string // name, value, name, value
	text       string
	children   []*element
	tail       string // the text behind it
}

// tag is an element with its attributes.
func tag(name string, attributes ...string) *element {
	return &element{name: name, attributes: attributes}
}

// in puts children into the element. One that is nil is left out.
func (e *element) in(children ...*element) *element {
	for _, c := range children {
		if c != nil {
			e.children = append(e.children, c)
		}
	}
	return e
}

// say puts text before the children.
func (e *element) say(text string) *element {
	e.text = text
	return e
}

// then puts text behind the element.
func (e *element) then(text string) *element {
	e.tail = text
	return e
}

// document is the whole document with e at its root.
func (e *element) document() []byte {
	var b bytes.Buffer
	b.WriteString(xml.Header)
	e.write(&b, "\n")
	b.WriteString("\n")
	return b.Bytes()
}

// write writes the element. Children stand on lines of their own where there is no text among them.
func (e *element) write(b *bytes.Buffer, line string) {
	b.WriteString("<" + e.name)
	for i := 0; i+1 < len(e.attributes); i += 2 {
		b.WriteString(" " + e.attributes[i] + `="`)
		escape(b, e.attributes[i+1])
		b.WriteString(`"`)
	}
	if e.text == "" && len(e.children) == 0 {
		b.WriteString("/>")
		return
	}
	b.WriteString(">")
	escape(b, e.text)
	flows := e.text != ""
	for _, c := range e.children {
		flows = flows || c.tail != ""
	}
	for _, c := range e.children {
		if flows {
			c.write(b, line)
		} else {
			b.WriteString(line + " ")
			c.write(b, line+" ")
		}
		escape(b, c.tail)
	}
	if !flows {
		b.WriteString(line)
	}
	b.WriteString("</" + e.name + ">")
}

// escape writes text so that it is read back as it is.
func escape(b *bytes.Buffer, text string) {
	_ = xml.EscapeText(b, []byte(text)) // a buffer takes everything
}

// decimal writes a number with every digit and without a power of ten.
func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
