package main

import (
	"bytes"
	"flag"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var write = flag.Bool("write", false, "write what the commands of README.md print")

// Every command that README.md shows prints what README.md says, but for what
// stands for "..." there. Mend it with
//
//	go test ./examples/embed -run Readme -write
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
			if *write && !strings.Contains(want, "...\n") {
				shown := strings.TrimSuffix(string(out), "exit status 1\n")
				text = bytes.Replace(text, []byte(block), []byte("$ "+command+"\n"+shown), 1)
				require.NoError(t, os.WriteFile("../../README.md", text, 0o644))
				return
			}
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
