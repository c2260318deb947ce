package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"strings"
	"sync/atomic"
	"syscall"
	"time"

	"example.com/powerup/internal/record"
)

// checkAll verifies files, as many at once as there are processors to use. The
// entries are in the order of the files, whichever was done first. The stop key
// ends it with no entries: nothing is said of an archive that was seen in part.
func checkAll(o verifyOptions, paths []string, screen io.Writer) ([]record.Entry, error) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	defer stop()
	p := progress{screen: screen, all: len(paths)}
	defer p.wipe()
	entries := make([]record.Entry, len(paths))
	redraw := time.NewTicker(redrawEvery)
	defer redraw.Stop()
	done := eachEntry(ctx, o, paths, entries)
	for p.checked < len(paths) {
		select {
		case <-ctx.Done():
			return nil, fmt.Errorf("broken off, with %d of %d records checked: nothing is said of any of them%w", p.checked, p.all, quiet{errAborted})
		case <-redraw.C:
			p.draw()
		case i := <-done:
			p.count(entries[i])
		}
	}
	return entries, nil
}

// eachEntry begins the work, and tells the places of the entries that are done.
// Whoever works takes the next file that nobody has; no file is begun after the end
// of the context, and there is room for all that is told, so nobody is kept waiting.
func eachEntry(ctx context.Context, o verifyOptions, paths []string, entries []record.Entry) <-chan int {
	done := make(chan int, len(paths))
	var taken atomic.Int64
	for range min(runtime.GOMAXPROCS(0), len(paths)) {
		go func() {
			for ctx.Err() == nil {
				i := int(taken.Add(1)) - 1
				if i >= len(paths) {
					return
				}
				entries[i] = entry(o, paths[i])
				done <- i
			}
		}()
	}
	return done
}

// redrawEvery is slow enough to be read, and longer than a small folder takes.
const redrawEvery = 250 * time.Millisecond

// progress is a bar and its numbers in one line on a terminal, drawn over itself
// without any escape, so that every terminal can. It only grows longer.
type progress struct {
	screen                io.Writer // nil: no terminal
	all, checked, refused int
	width                 int // of what stands there
}

func (p *progress) count(e record.Entry) {
	p.checked++
	if !e.Accepted {
		p.refused++
	}
}

func (p *progress) draw() {
	if p.screen == nil {
		return
	}
	const wide = 24
	full := p.checked * wide / p.all
	line := fmt.Sprintf("[%s%s] checked %d of %d, %d not accepted", strings.Repeat("#", full), strings.Repeat(".", wide-full), p.checked, p.all, p.refused)
	p.width = len(line)
	fmt.Fprint(p.screen, "\r"+line)
}

// wipe leaves the line empty.
func (p *progress) wipe() {
	if p.width > 0 {
		fmt.Fprint(p.screen, "\r"+strings.Repeat(" ", p.width)+"\r")
	}
}
