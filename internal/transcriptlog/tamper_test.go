package transcriptlog

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"strconv"
	"sync"
	"testing"
	"time"
)

// envTamper makes TestEveryBitOfASignedRecord ask the signature too about one bit
// of every so manieth byte; "1" is every bit of every byte.
const envTamper = "POWERUP_TEST_TAMPER"

// realistic is a closed record with the lines of a whole scripted session, as
// they are kept by cmd/powerup, chained here.
func realistic(t *testing.T) []byte {
	t.Helper()
	recs := []Record{{Kind: "open", Fields: map[string]string{"format": Format}}}
	for row := range bytes.Lines(readFile(t, "../../cmd/powerup/testdata/golden/two-meters.transcript.golden")) {
		var r Record
		if err := json.Unmarshal(row, &r); err != nil {
			t.Fatal(err)
		}
		recs = append(recs, r)
	}
	whole := encode(t, false, recs...)
	if got := Read(whole); got.Ending != Complete || len(got.Lines) < 200 {
		t.Fatalf("%v, %d lines: this would test little", got.Ending, len(got.Lines))
	}
	return whole
}

// Every single bit of a signed record of a whole session: the chain sees it, or
// the signature does. A bit can touch no more than its own line, one more if it is
// a line feed, and the prev of the next, so those are checked with the seam
// before them, by the code that checks a file in pieces.
func TestEveryBitOfASignedRecord(t *testing.T) {
	t.Parallel()
	whole := realistic(t)
	key := testKey(t, 1)
	known := signers(t, row("j.smith", "", key))
	armored := sign(t, key, NamespaceReal, whole)
	ends := append([]int{0}, lineEnds(whole)...)
	chained, signed := 0, 0
	start := time.Now()
	for n := range len(ends) - 1 {
		from, to := ends[n], ends[min(n+3, len(ends)-1)]
		before := link{}
		if n > 0 {
			before = checkPiece(whole[ends[n-1]:from])
		}
		piece := bytes.Clone(whole[from:to])
		for bit := range 8 * (ends[n+1] - from) {
			if testing.Short() && bit%64 != 0 {
				continue
			}
			piece[bit/8] ^= 1 << (bit % 8)
			l := checkPiece(piece)
			switch {
			case l.fault != "" || l.first.seq != before.last+1 || !follows(l.first.prev, before.sum) || n > 0 && l.first.practice != before.first.practice:
				chained++
			case !verifies(whole[:from], piece, whole[to:], armored, known):
				signed++
			default:
				t.Errorf("bit %d of line %d is seen by nobody", bit, n+1)
			}
			piece[bit/8] ^= 1 << (bit % 8)
		}
	}
	t.Logf("%d of %d bits in %v: %d seen by the chain, %d by the signature alone",
		chained+signed, 8*len(whole), time.Since(start).Round(time.Millisecond), chained, signed)
	if !testing.Short() && chained+signed != 8*len(whole) || signed == 0 {
		t.Error("not every bit was looked at")
	}
}

func verifies(before, piece, after, armored []byte, known Signers) bool {
	_, err := VerifySignature(bytes.Join([][]byte{before, piece, after}, nil), armored, NamespaceReal, known)
	return !errors.Is(err, ErrSignature)
}

// The signature alone sees every bit as well, and the reader of whole files names
// the line or the one after it.
func TestTheSignatureAloneSeesEveryBit(t *testing.T) {
	t.Parallel()
	whole := realistic(t)
	key := testKey(t, 1)
	known := signers(t, row("j.smith", "", key))
	armored := sign(t, key, NamespaceReal, whole)
	every := 211
	if text := os.Getenv(envTamper); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			t.Fatalf("%s=%s is no number of bytes", envTamper, text)
		}
		every = n
	}
	var wg sync.WaitGroup
	const workers = 2
	for w := range workers {
		wg.Go(func() {
			b := bytes.Clone(whole)
			for at := w * every; at < len(whole); at += workers * every {
				for bit := range 8 {
					if every > 1 && bit != at%8 {
						continue
					}
					b[at] ^= 1 << bit
					line := 1 + bytes.Count(whole[:at], []byte("\n"))
					got := Read(b)
					last := line == bytes.Count(whole, []byte("\n"))
					if got.Ending == Broken && got.BadLine != line && got.BadLine != line+1 || got.Ending != Broken && !last {
						t.Errorf("bit %d of byte %d, line %d: %v, line %d", bit, at, line, got.Ending, got.BadLine)
					}
					if _, err := VerifySignature(b, armored, NamespaceReal, known); !errors.Is(err, ErrSignature) {
						t.Errorf("bit %d of byte %d is not covered: %v", bit, at, err)
					}
					b[at] ^= 1 << bit
				}
			}
		})
	}
	wg.Wait()
	t.Logf("one byte in %d of %d", every, len(whole))
}
