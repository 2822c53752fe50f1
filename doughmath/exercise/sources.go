package exercise

import (
	_ "embed" // the sources stand in a file of their own, made from the descriptions
	"strings"
	"sync"
)

//go:generate go test -count=1 -run ^TestSourcesAreCurrent$ . -write

// sources.txt has a line for each calculation: its id, a tab, its sources with
// tabs between them. The package of the descriptions would bring far more.
//
//go:embed sources.txt
var sourceLines string

var sources = sync.OnceValue(func() map[string][]string {
	all := map[string][]string{}
	for line := range strings.Lines(sourceLines) {
		id, list, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		all[id] = strings.Split(list, "\t")
	}
	return all
})

// sourcesOf are the sources of a calculation.
func sourcesOf(id string) []string { return sources()[id] }
