package keep_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/keep"
)

func TestHeldAlone(t *testing.T) {
	name := filepath.Join(t.TempDir(), "state")
	held, err := keep.Hold(t.Context(), name, 0)
	require.NoError(t, err)
	data, err := held.Read()
	require.NoError(t, err)
	assert.Nil(t, data, "nothing is there yet")
	_, err = keep.Hold(t.Context(), name, 0)
	require.EqualError(t, err, name+" is in use by another program: end that one first, or name another file")
	require.NoError(t, held.Replace([]byte("one"), nil))
	require.Error(t, held.Replace([]byte("two"), func() error { return errors.New("nobody hears") }))
	require.Error(t, held.Replace(make([]byte, intake.Most+1), nil), "it could not be read again")
	data, err = held.Read()
	require.NoError(t, err)
	assert.Equal(t, "one", string(data))
	held.Release()
	left, err := os.ReadDir(filepath.Dir(name))
	require.NoError(t, err)
	assert.Len(t, left, 1)
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	_, err = keep.Hold(gone, name, time.Second)
	assert.ErrorIs(t, err, context.Canceled)
}

// Whoever is patient gets the file: of many that count up in it none is lost.
func TestTurns(t *testing.T) {
	name := filepath.Join(t.TempDir(), "count")
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for range 10 {
				held, err := keep.Hold(context.Background(), name, time.Minute)
				if !assert.NoError(t, err) {
					return
				}
				data, err := held.Read()
				assert.NoError(t, err)
				n, _ := strconv.Atoi(string(data)) // 0 at first
				assert.NoError(t, held.Replace([]byte(strconv.Itoa(n+1)), nil))
				held.Release()
			}
		})
	}
	all.Wait()
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "40", string(data))
}

func TestWriteProtected(t *testing.T) {
	name := filepath.Join(t.TempDir(), "state")
	require.NoError(t, os.WriteFile(name, []byte("mine"), 0o400))
	held, err := keep.Hold(t.Context(), name, 0)
	require.NoError(t, err)
	defer held.Release()
	require.ErrorContains(t, held.Replace([]byte("x"), nil), "write-protected")
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "mine", strings.TrimSpace(string(data)))
}
