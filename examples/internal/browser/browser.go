// Package browser runs the scripts that open the pages of the examples in
// headless Chromium, for their tests.
package browser

import (
	"os"
	"os/exec"
	"testing"
)

// Tool finds a program that a browser test takes. Without BROWSER=need the test
// is left out, because a page takes longer to be opened than all other tests take; with it
// the test fails where the program is not installed.
func Tool(t testing.TB, name string) string {
	t.Helper()
	if os.Getenv("BROWSER") != "need" {
		t.Skip("BROWSER is not need: the page was not opened in a browser")
	}
	path, err := exec.LookPath(name)
	if err != nil {
		t.Fatal("install nodejs, chromium and poppler-utils, and with npm puppeteer-core and axe-core, to which NODE_PATH points: ", err)
	}
	return path
}

// Script runs a script in Node and logs what it prints. The test fails if the
// script does.
func Script(t testing.TB, script string, args ...string) {
	t.Helper()
	text, err := exec.Command(Tool(t, "node"), append([]string{script}, args...)...).CombinedOutput()
	t.Logf("\n%s", text)
	if err != nil {
		t.Error(script, err)
	}
}
