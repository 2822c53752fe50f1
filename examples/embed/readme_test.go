package main

import (
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every command that README.md shows prints what README.md says, but for what
// stands for "..." there.
func TestReadmeCommands(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	ran := 0
	for _, block := range strings.Split(string(text), "```console\n")[1:] {
		block, _, ok := strings.Cut(block, "```")
		require.True(t, ok)
		command, want, _ := strings.Cut(block, "\n")
		command = strings.TrimPrefix(command, "$ ")
		t.Run(command, func(t *testing.T) {
			run := exec.Command("sh", "-c", command)
			run.Dir = "../.."
			out, _ := run.CombinedOutput() // some commands show how they refuse
			rest := string(out)
			for i, part := range strings.Split(want, "...\n") {
				if part == "" {
					continue
				}
				at := strings.Index(rest, part)
				require.GreaterOrEqual(t, at, 0, "not printed:\n%s\nbut:\n%s", part, out)
				if i == 0 {
					assert.Zero(t, at, "it starts otherwise:\n%s", out)
				}
				rest = rest[at+len(part):]
			}
			if !strings.HasSuffix(want, "...\n") {
				assert.Empty(t, strings.TrimSuffix(rest, "exit status 1\n"), "it prints more")
			}
		})
		ran++
	}
	assert.Greater(t, ran, 3)
}
