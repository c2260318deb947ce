package transcriptlog_test

import (
	"errors"
	"io"
	"io/fs"
	"syscall"
	"testing"

	"example.com/powerup/internal/transcriptlog"
	"example.com/powerup/internal/transcriptlog/crashdisk"
)

// failing is a disk whose n-th call fails with err.
func failing(n int, err error) *crashdisk.Disk {
	d := crashdisk.New()
	calls := 0
	d.Fail = func(crashdisk.Call) error {
		if calls++; calls == n {
			return err
		}
		return nil
	}
	return d
}

// Whatever call fails once, with whatever error: the writer says so, writes
// nothing after it, and what it had acknowledged is found by the next one, who
// has it on the disk before it is shown.
func TestOneCallThatFails(t *testing.T) {
	t.Parallel()
	const events = 12
	all := writeSession(t, events)
	for n := 1; n <= all.disk.Calls(); n++ {
		for _, why := range []error{syscall.EIO, syscall.ENOSPC, io.ErrShortWrite} {
			d := failing(n, why)
			acked := writeUntilItFails(t, d, events, why)
			calls := d.Calls()
			l, found, err := transcriptlog.ResumeOn(d, crashPath)
			if err != nil {
				if acked > 0 || !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, transcriptlog.ErrBroken) {
					t.Errorf("call %d, %v: not resumed after %d lines: %v", n, why, acked, err)
				}
				continue
			}
			if len(found.Lines) < acked || d.Calls() == calls {
				t.Errorf("call %d, %v: %d lines were acknowledged, %d found", n, why, acked, len(found.Lines))
			}
			for _, fate := range crashdisk.Fates { // and now the power goes
				for _, left := range d.After(d.Calls(), fate) {
					b, _ := left.Read(crashPath)
					if got := transcriptlog.Read(b); len(got.Lines) < len(found.Lines) {
						t.Errorf("call %d, %v, %s: %d lines were found, %d are on the disk", n, why, fate.Name, len(found.Lines), len(got.Lines))
					}
				}
			}
			if err := l.Close(); err != nil {
				t.Error(err)
			}
		}
	}
}

// writeUntilItFails gives the number of lines that were acknowledged.
func writeUntilItFails(t *testing.T, d *crashdisk.Disk, events int, why error) (acked int) {
	t.Helper()
	l, err := transcriptlog.CreateOn(d, crashPath, false)
	if err != nil {
		if !errors.Is(err, why) {
			t.Errorf("not made, and the disk's own error is lost: %v", err)
		}
		return 0
	}
	defer l.Close()
	for e := range events {
		err := l.Append(instant(e), eventOf(e)...)
		if err == nil {
			acked += len(eventOf(e))
			continue
		}
		if !errors.Is(err, transcriptlog.ErrDurability) || !errors.Is(err, why) {
			t.Errorf("event %d: %v", e, err)
		}
		calls := d.Calls()
		for range 3 {
			if err := l.Append(instant(e), eventOf(e)...); !errors.Is(err, transcriptlog.ErrDurability) {
				t.Errorf("after the failure: %v", err)
			}
		}
		if d.Calls() != calls {
			t.Error("something was asked of the disk after the failure")
		}
		return acked
	}
	t.Error("no call failed")
	return acked
}

// A resume in which one call fails loses no line and can be tried again.
func TestOneCallThatFailsWithinAResume(t *testing.T) {
	w := writeSession(t, 6)
	torn := w.disk.After(w.disk.Calls()-1, crashdisk.Fates[0])[0] // written, not forced
	whole, _ := torn.Read(crashPath)
	tried := 0
	for n := 1; ; n++ {
		d := crashdisk.Holding(crashPath, whole[:len(whole)-7])
		calls, failed := 0, false
		d.Fail = func(crashdisk.Call) error {
			calls++
			failed = calls == n
			if failed {
				return syscall.EIO
			}
			return nil
		}
		l, _, err := transcriptlog.ResumeOn(d, crashPath)
		if err == nil {
			l.Close()
			break
		}
		tried++
		if !errors.Is(err, syscall.EIO) {
			t.Errorf("call %d: %v", n, err)
		}
		d.Fail = nil
		l, found, err := transcriptlog.ResumeOn(d, crashPath)
		if err != nil || string(found.Torn) != string(whole[wholeEnd(whole):len(whole)-7]) {
			t.Fatalf("call %d: the second time: %v, torn %d bytes", n, err, len(found.Torn))
		}
		l.Close()
	}
	if tried < 5 { // the copy made, written, synced, renamed, its folder, the cut and its sync
		t.Errorf("%d calls failed", tried)
	}
}

// wholeEnd is where the last whole line of a torn one begins.
func wholeEnd(b []byte) int {
	end := 0
	for i, c := range b[:len(b)-7] {
		if c == '\n' {
			end = i + 1
		}
	}
	return end
}
