package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A reader copies the program from README.md into a module of their own.
func TestFromAnotherModule(t *testing.T) {
	program, err := os.ReadFile("main.go")
	require.NoError(t, err)
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	_, body, found := strings.Cut(string(program), "func main() {\n")
	require.True(t, found)
	assert.Contains(t, string(readme), body, "README.md carries another program than examples/embed")

	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	sums, err := os.ReadFile(filepath.Join(root, "go.sum"))
	require.NoError(t, err)
	dir := t.TempDir()
	module := "module bakery.example/office\n\ngo 1.26.0\n\nrequire example.com/dough v0.0.0\n\nreplace example.com/dough => " + root + "\n"
	for name, text := range map[string]string{"go.mod": module, "go.sum": string(sums), "main.go": string(program)} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	run := exec.Command("go", "run", "-mod=mod", ".")
	run.Dir = dir
	out, err := run.CombinedOutput()
	require.NoError(t, err, string(out))
	assert.Equal(t, "water: 20 °C [] []\n", string(out))
}
