//go:build unix

package program

import (
	"os"
	"os/signal"
	"syscall"
)

// ends are how a program is told to end: by a key, by the terminal that is closed, by the system.
var ends = []os.Signal{os.Interrupt, syscall.SIGHUP, syscall.SIGTERM}

func ignoreClosedPipes() { signal.Ignore(syscall.SIGPIPE) }
