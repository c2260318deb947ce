package transcriptlog

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// childEnv makes the test program a second program that writes a transcript.
const childEnv = "TRANSCRIPTLOG_TEST_CHILD"

func TestMain(m *testing.M) {
	if path := os.Getenv(childEnv); path != "" {
		os.Exit(child(path))
	}
	os.Exit(m.Run())
}

// child appends for ever and says the number of each line that is on the disk.
func child(path string) int {
	l, err := Create(path, false)
	for n := 1; err == nil && n < MaxLines; n++ {
		if err = l.Append(stamp(0), Record{Kind: "note", Fields: map[string]string{"text": strings.Repeat("x", n%3000)}}); err == nil {
			fmt.Println(n)
		}
	}
	fmt.Fprintln(os.Stderr, err)
	return 1
}

// While another program writes, Resume is locked out; when that program is
// killed, the lock is gone and every line it was told of is there.
func TestAProgramThatIsKilledLosesNoLine(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	for round := range 5 {
		path := filepath.Join(t.TempDir(), "log.jsonl")
		c := exec.Command(self)
		c.Env = append(os.Environ(), childEnv+"="+path)
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		said := 0
		for s := bufio.NewScanner(out); s.Scan(); {
			if _, err := fmt.Sscan(s.Text(), &said); err != nil {
				t.Fatalf("the other program said %q", s.Text())
			}
			if said == 10 {
				if _, _, err := Resume(path); !errors.Is(err, ErrLocked) {
					t.Errorf("resumed while another program writes: %v", err)
				}
			}
			if said == 20+7*round {
				c.Process.Kill()
			}
		}
		c.Wait()
		l, found, err := Resume(path)
		if err != nil {
			t.Fatal(err)
		}
		l.Close()
		if len(found.Lines) < said || said < 20 {
			t.Errorf("%d lines were said to be on the disk, %d are", said, len(found.Lines))
		}
	}
}
