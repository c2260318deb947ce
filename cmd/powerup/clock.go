package main

import (
	"context"
	"time"

	"example.com/powerup/internal/session"
)

// clock tells the time and waits.
type clock interface {
	now() session.Instant
	// wait returns when d is over or the context ends.
	wait(ctx context.Context, d time.Duration) error
	// bench tells whether waits are jumped over.
	bench() bool
}

// wallClock is this computer's own.
type wallClock struct{ start time.Time }

func newWallClock() wallClock { return wallClock{start: time.Now()} }

func (c wallClock) now() session.Instant {
	t := time.Now()
	// the record counts in milliseconds, and a replay must see the same instants;
	// the zone is that of the clock on the wall
	return session.Instant{Wall: t.Round(0).Truncate(time.Millisecond), Mono: t.Sub(c.start).Truncate(time.Millisecond)}
}

func (c wallClock) wait(ctx context.Context, d time.Duration) error {
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-t.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (wallClock) bench() bool { return false }

// benchClock stands still at prompts and jumps over waits, wall and monotonic
// together. Only practice, demo and scripted sessions run on it.
type benchClock struct{ at session.Instant }

func newBenchClock(start time.Time) *benchClock {
	return &benchClock{at: session.Instant{Wall: start.UTC().Truncate(time.Millisecond)}}
}

func (c *benchClock) now() session.Instant { return c.at }

// wait goes on by whole milliseconds, as the record counts: by less it would say
// that the wait was not over.
func (c *benchClock) wait(_ context.Context, d time.Duration) error {
	d = (d + time.Millisecond - 1).Truncate(time.Millisecond)
	c.at = session.Instant{Wall: c.at.Wall.Add(d), Mono: c.at.Mono + d}
	return nil
}

func (*benchClock) bench() bool { return true }
