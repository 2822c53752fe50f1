//go:build !unix

package program

import (
	"os"
	"syscall"
)

// ends are how a program is told to end: by a key, by the window that is closed, by the system.
var ends = []os.Signal{os.Interrupt, syscall.SIGTERM}

func ignoreClosedPipes() {} // they are an error of the writing there
