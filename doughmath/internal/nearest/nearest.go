// Package nearest finds the word that a misspelt one was probably meant to be.
package nearest

import "strings"

// maxWord bounds the work on a hostile word.
const maxWord = 64

// Of returns the candidate that takes the fewest slips to mistype as word:
// letters left out, put in, changed, or two neighbours swapped. Case, spaces
// and the kind of dash do not count. It returns "" if none is close.
func Of(word string, candidates []string) string {
	if word == "" || len(word) > maxWord {
		return ""
	}
	word = plain(word)
	best, fewest := "", 1+max(1, len([]rune(word))/3)
	for _, c := range candidates {
		if d := slips(word, plain(c)); d < fewest {
			best, fewest = c, d
		}
	}
	return best
}

func plain(s string) string {
	return strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(s))
}

// slips is the optimal string alignment distance.
func slips(a, b string) int {
	x, y := []rune(a), []rune(b)
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}
