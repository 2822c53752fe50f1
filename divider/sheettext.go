package divider

import (
	"strconv"
	"strings"
)

// countLine is a line of a sheet that counts items of a list, each by its
// symbol.
func countLine(words, symbol string, found []string) string {
	if len(found) == 0 {
		return words + ": " + symbol + " = 0  [none]"
	}
	return words + ": " + symbol + " = count(" + strings.Join(found, ", ") + ")"
}

// those lists the symbols of the items, of n, of which is says so.
func those(symbol string, n int, is func(i int) bool) (found []string) {
	for i := range n {
		if is(i) {
			found = append(found, strings.ReplaceAll(symbol, "#", strconv.Itoa(i+1)))
		}
	}
	return found
}

// productsText is the sum of the products of neighbours about their mean m,
// x_1 with x_2, x_2 with x_3 and so on.
func productsText(n int) string {
	terms := make([]string, 0, n)
	for i := 1; i < n; i++ {
		terms = append(terms, "(x_"+strconv.Itoa(i)+" - m)*(x_"+strconv.Itoa(i+1)+" - m)")
	}
	return strings.Join(terms, " + ")
}
