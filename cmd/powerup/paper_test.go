package main

import (
	"bytes"
	"encoding/xml"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// papers are the sizes, in points, that a document without one of its own is
// printed on.
var papers = []struct {
	name          string
	width, height float64
}{{"A4", 595, 842}, {"letter", 612, 792}}

// clear is the edge, in points, that most printers cannot reach: a quarter inch.
const clear = 18

// The HTML prints on A4 and on Letter: every page begins a sheet, every sheet says
// whose it is, and no word is cut or lies where a printer cannot reach.
func TestThePlanPrintsOnBothPapers(t *testing.T) {
	needs(t, "chromium")
	needs(t, "pdftotext")
	h := newHome(t)
	for _, args := range [][]string{{"plan", "--html", "table-radio"}, {"plan", "--html", "--trainer", "--bench", "one-meter", "sparse-radio"}} {
		raw, err := h.program(t, args...).Output()
		if err != nil {
			t.Fatal(err)
		}
		for _, paper := range papers {
			t.Run(strings.Join(args, " ")+" on "+paper.name, func(t *testing.T) {
				sheets := printed(t, h, raw, paper.name)
				begins, words := 0, 0
				for n, sheet := range sheets {
					if !about(sheet.Width, paper.width) || !about(sheet.Height, paper.height) {
						t.Fatalf("sheet %d is %g by %g", n+1, sheet.Width, sheet.Height)
					}
					words += len(sheet.Words)
					for _, w := range sheet.Words {
						if !(w.Left >= clear && w.Top >= clear && w.Right <= sheet.Width-clear && w.Bottom <= sheet.Height-clear) {
							t.Errorf("sheet %d: %q lies at %g to %g, %g to %g", n+1, w.Text, w.Left, w.Right, w.Top, w.Bottom)
						}
					}
					if !sheet.says("mark") || !sheet.says("page") || !sheet.says("sheet") {
						t.Errorf("sheet %d does not say whose it is, or which", n+1)
					}
					if sheet.says("STAGE") || sheet.says("END") || sheet.says("STAGES") || sheet.says("RAMP") {
						begins++
					}
				}
				pages := bytes.Count(raw, []byte(`class="page"`))
				if begins < pages || len(sheets) < pages {
					t.Errorf("%d pages begin on %d of %d sheets", pages, begins, len(sheets))
				}
				if want := bytes.Count(raw, []byte("<h2>")); words < 20*want || want == 0 {
					t.Errorf("%d words for %d lines", words, want)
				}
				lost(t, raw, sheets)
			})
		}
	}
}

// lost names the lines of the document that are on no sheet.
func lost(t *testing.T, raw []byte, sheets []sheetOfPaper) {
	t.Helper()
	for _, part := range strings.Split(string(raw), "<h2>")[1:] {
		id, _, _ := strings.Cut(part, "<")
		id = strings.TrimSpace(id)
		if !slices.ContainsFunc(sheets, func(s sheetOfPaper) bool { return s.says(id) }) {
			t.Errorf("line %s is on no sheet", id)
		}
	}
}

func about(got, want float64) bool { return got > want-1 && got < want+1 }

// sheetOfPaper is one sheet with its words and where they are, in points.
type sheetOfPaper struct {
	Width  float64 `xml:"width,attr"`
	Height float64 `xml:"height,attr"`
	Words  []struct {
		Left   float64 `xml:"xMin,attr"`
		Right  float64 `xml:"xMax,attr"`
		Top    float64 `xml:"yMin,attr"`
		Bottom float64 `xml:"yMax,attr"`
		Text   string  `xml:",chardata"`
	} `xml:"word"`
}

func (s sheetOfPaper) says(word string) bool {
	for _, w := range s.Words {
		if w.Text == word {
			return true
		}
	}
	return false
}

// printed prints a document with a browser on a size of paper.
func printed(t *testing.T, h home, raw []byte, size string) []sheetOfPaper {
	t.Helper()
	dir, err := os.MkdirTemp(h.dir, "print")
	if err != nil {
		t.Fatal(err)
	}
	page, pdf := filepath.Join(dir, "plan.html"), filepath.Join(dir, "plan.pdf")
	sized := bytes.Replace(raw, []byte("</head>"), []byte("<style>@page { size: "+size+"; }</style></head>"), 1)
	if err := os.WriteFile(page, sized, 0o600); err != nil {
		t.Fatal(err)
	}
	browser := exec.Command("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--disable-sync",
		"--user-data-dir="+filepath.Join(dir, "profile"), "--no-pdf-header-footer", "--print-to-pdf="+pdf, "file://"+page)
	browser.Env = h.env
	if out, err := browser.CombinedOutput(); err != nil {
		t.Fatalf("chromium: %v\n%s", err, out)
	}
	out, err := exec.Command("pdftotext", "-bbox", pdf, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext: %v", err)
	}
	var doc struct {
		Sheets []sheetOfPaper `xml:"body>doc>page"`
	}
	if err := xml.Unmarshal(out, &doc); err != nil {
		t.Fatal(err)
	}
	if len(doc.Sheets) == 0 {
		t.Fatal("nothing was printed")
	}
	return doc.Sheets
}
