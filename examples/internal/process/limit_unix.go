//go:build linux || darwin

package process

import (
	"os/signal"
	"syscall"
)

const filesCanBeLimited = true

// limitFiles makes writing beyond so many bytes an error.
func limitFiles(bytes int) {
	signal.Ignore(syscall.SIGXFSZ)
	limit := syscall.Rlimit{Cur: uint64(bytes), Max: uint64(bytes)}
	if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
		panic(err)
	}
}
