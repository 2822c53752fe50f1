package exercise_test

import (
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
)

var write = flag.Bool("write", false, "write sources.txt anew")

// ourFiles is what a student's key does not need: where our own checks stand.
var ourFiles = regexp.MustCompile(`[;,]? ?(and |cases )?(the )?in testdata/\S+\.json|(; )?cases in testdata/\S+\.json`)

// The sources of a key are those of the descriptions.
func TestSourcesAreCurrent(t *testing.T) {
	var b strings.Builder
	for _, e := range calc.Entries() {
		b.WriteString(e.ID + "\t" + ourFiles.ReplaceAllString(strings.Join(describe.Of(e).Sources, "\t"), "") + "\n")
	}
	if *write {
		require.NoError(t, os.WriteFile("sources.txt", []byte(b.String()), 0o644))
		return
	}
	got, err := os.ReadFile("sources.txt")
	require.NoError(t, err)
	assert.Equal(t, b.String(), string(got), "run go generate ./doughmath/exercise")
}
