package transcriptlog

import (
	"bytes"
	"os"
	"strings"
	"testing"
)

const exampleMark = "<!-- example -->\n"

// The worked example of FORMAT.md: a transcript, a signers file, a signature.
func example(t *testing.T) (file, known, armored []byte) {
	t.Helper()
	file = encode(t, false,
		Record{Kind: "open", Fields: map[string]string{"format": Format, "operator": "j.smith"}},
		Record{Kind: "reading", Fields: map[string]string{"check": "ht-line", "note": "read \"OL\",\nthen settled", "raw": "4k7", "value": "4.7 kΩ"}},
		Record{Kind: KindClose, Fields: map[string]string{"result": "tested, not handed back"}},
	)
	key := testKey(t, 42)
	return file, []byte(row("j.smith", NamespaceReal, key) + "\n"), sign(t, key, NamespaceReal, file)
}

// The page says what the program does: its example is made here, and what
// stands on the page reads COMPLETE and verifies.
func TestTheExampleOnThePage(t *testing.T) {
	page := string(readFile(t, "FORMAT.md"))
	text, _, ok := strings.Cut(page, exampleMark)
	if !ok {
		t.Fatal("FORMAT.md has no worked example")
	}
	file, known, armored := example(t)
	want := text + exampleMark + "\n`FILE`, three lines (the key of this example is for this page alone):\n\n" + block(file) +
		"\n`allowed_signers`, one line:\n\n" + block(known) + "\n`FILE.sig`:\n\n" + block(armored)
	if *update {
		if err := os.WriteFile("FORMAT.md", []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		page = want
	}
	if page != want {
		t.Error("the example on the page is not what the program writes: see -update")
	}
	blocks := strings.Split(page, "```\n")
	if len(blocks) != 7 {
		t.Fatalf("%d blocks on the page", len(blocks))
	}
	s, err := ParseSigners([]byte(blocks[3]))
	if err != nil {
		t.Fatal(err)
	}
	got := Read([]byte(blocks[1]))
	who, err := VerifySignature([]byte(blocks[1]), []byte(blocks[5]), got.Namespace(), s)
	if got.Ending != Complete || err != nil || who != "j.smith" {
		t.Errorf("%v (%s), %q, %v", got.Ending, got.Reason, who, err)
	}
}

func block(b []byte) string {
	return "```\n" + string(bytes.TrimSuffix(b, []byte("\n"))) + "\n```\n"
}
