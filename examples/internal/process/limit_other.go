//go:build !linux && !darwin

package process

const filesCanBeLimited = false

func limitFiles(int) {}
