package intake

import (
	"bufio"
	"errors"
	"fmt"
	"io"
)

// Lines hands out the lines of a table, and holds one of them at a time.
type Lines struct {
	in     *bufio.Reader
	most   int
	number int
	long   []byte // a line that does not fit the buffer
}

// A LongLine is a line with more bytes than a line may have. The next one can be read.
type LongLine struct{ Number, Most int }

func (l *LongLine) Error() string {
	return fmt.Sprintf("line %d has more than %d bytes", l.Number, l.Most)
}

// endless is after how many times the longest line the end of one is given up.
const endless = 16

// NewLines reads lines of at most so many bytes.
func NewLines(in io.Reader, most int) *Lines {
	return &Lines{in: bufio.NewReaderSize(in, 64<<10), most: most}
}

// Number is that of the line that was read last, the first is 1.
func (l *Lines) Number() int { return l.number }

// Next returns the next line with its end, which the last one may lack, good until the next call. It returns io.EOF after
// the last line, a *LongLine for one that is too long, and another error where the reading
// itself fails or a line does not end at all.
func (l *Lines) Next() ([]byte, error) {
	line, err := l.in.ReadSlice('\n')
	if !errors.Is(err, bufio.ErrBufferFull) {
		return l.end(line, len(line), err)
	}
	l.long = l.long[:0]
	size := 0
	for ; errors.Is(err, bufio.ErrBufferFull); line, err = l.in.ReadSlice('\n') {
		if size += len(line); size > endless*l.most {
			return nil, fmt.Errorf("line %d has no end within %d bytes: that is no table", l.number+1, endless*l.most)
		}
		if size <= l.most {
			l.long = append(l.long, line...)
		}
	}
	if size += len(line); size <= l.most {
		l.long = append(l.long, line...)
	}
	return l.end(l.long, size, err)
}

// end tells what a line of that size is that ended with the error.
func (l *Lines) end(line []byte, size int, err error) ([]byte, error) {
	switch {
	case errors.Is(err, io.EOF) && size == 0:
		return nil, io.EOF
	case err != nil && !errors.Is(err, io.EOF):
		return nil, err
	}
	l.number++
	if size > l.most {
		return nil, &LongLine{l.number, l.most}
	}
	return line, nil
}
