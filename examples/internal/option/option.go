// Package option reads the options of the programs, so that all of them are typed alike.
package option

import (
	"path/filepath"
	"strings"
)

// ByEnding puts the format first that the name of a file ends with.
func ByEnding(name string, formats ...string) []string {
	for i, f := range formats {
		if filepath.Ext(name) == "."+f {
			formats[0], formats[i] = formats[i], formats[0]
		}
	}
	return formats
}

// List takes values apart that are joined by commas; those in square brackets belong to a
// value. Nothing between two commas is no value; a blank is one, for whoever asked to refuse.
func List(text string) []string {
	out := []string{}
	depth, start := 0, 0
	for i, r := range text + "," {
		switch {
		case r == '[':
			depth++
		case r == ']':
			depth--
		case r == ',' && (depth <= 0 || i == len(text)):
			if i > start {
				out = append(out, strings.TrimSpace(text[start:i]))
			}
			start = i + 1
		}
	}
	return out
}
