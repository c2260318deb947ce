package main

import (
	"context"
	"errors"
	"fmt"

	"example.com/powerup/internal/console"
	"example.com/powerup/internal/session"
	"example.com/powerup/internal/transcriptlog"
)

// recorder puts records on disk; an error means that nothing more may be shown
// or acted on.
type recorder interface {
	Append(at transcriptlog.Stamp, recs ...transcriptlog.Record) error
}

// driver runs one session: the engine decides, the record is on disk, and only
// then the screen moves on.
type driver struct {
	session *session.Session
	record  recorder
	console console.Prompter
	clock   clock
	free    func() uint64 // bytes where the record is kept
}

// drive goes from prompt to prompt until the session is over.
func (d *driver) drive(ctx context.Context) error {
	for d.session.Result() == session.Running {
		if err := d.turn(ctx); err != nil {
			return err
		}
	}
	return d.ended()
}

func (d *driver) turn(ctx context.Context) error {
	if room := d.session.Room(d.free()); len(room.Records) > 0 {
		if err := d.keep(d.clock.now(), room); err != nil {
			return err
		}
	}
	p := d.session.Prompt()
	if p.Wait > 0 {
		d.console.Wait(p.Wait, p.Waits)
		if err := d.clock.wait(ctx, p.Wait); err != nil {
			return d.abort(context.Cause(ctx).Error())
		}
	}
	line, err := d.console.Ask(d.session.Standing(), p)
	switch {
	case errors.Is(err, console.ErrAbort), errors.Is(err, console.ErrEnd):
		return d.abort(err.Error())
	case err != nil:
		return errors.Join(d.abort("a fault of the input"), err)
	}
	now := d.clock.now()
	a := d.session.Submit(line, now)
	return d.keep(now, a)
}

func (d *driver) abort(why string) error {
	now := d.clock.now()
	return d.keep(now, d.session.Abort(why, now))
}

// keep puts an answer on disk and then shows it.
func (d *driver) keep(now session.Instant, a session.Answered) error {
	if err := d.record.Append(stamp(now), records(a.Records)...); err != nil {
		return fmt.Errorf("the record could not be kept: %w", err)
	}
	d.console.Tell(d.session.Standing(), a)
	return nil
}

// ended turns the session's result into the program's.
func (d *driver) ended() error {
	switch {
	case d.session.Stopped():
		return errStopped
	case d.session.Result() == session.Aborted:
		return errAborted
	case d.session.Result() == session.Parked:
		return errOpen
	}
	return nil
}

func stamp(i session.Instant) transcriptlog.Stamp {
	return transcriptlog.Stamp{Wall: i.Wall, Mono: i.Mono}
}

func records(rs []session.Record) []transcriptlog.Record {
	out := make([]transcriptlog.Record, len(rs))
	for i, r := range rs {
		out[i] = transcriptlog.Record{Kind: r.Kind, Fields: r.Fields}
	}
	return out
}
