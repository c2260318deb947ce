package console

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Reader takes what is typed, line by line. A line counts only with its line
// feed.
type Reader struct {
	r io.Reader
	b *bufio.Reader
}

// NewReader reads lines from r, which nothing else may read meanwhile.
func NewReader(r io.Reader) *Reader { return &Reader{r: r, b: bufio.NewReader(r)} }

// Line gives the next line without its line feed; ErrEnd when there is none
// left. What is not UTF-8 becomes the replacement character, which no reading
// has: the record holds text only.
func (r *Reader) Line() (string, error) {
	line, err := r.b.ReadString('\n')
	if errors.Is(err, io.EOF) {
		return "", ErrEnd
	}
	if err != nil {
		return "", fmt.Errorf("reading what is typed: %w", err)
	}
	return strings.ToValidUTF8(strings.TrimRight(line, "\r\n"), "\uFFFD"), nil
}

// Drop forgets what was read ahead and not given yet.
func (r *Reader) Drop() { r.b.Reset(r.r) }
