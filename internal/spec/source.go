package spec

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

const maxBytes = 256 << 10

// bytes refuses what is no plain UTF-8 text before a YAML reader sees it.
func (r *reader) bytes(b []byte) {
	if len(b) > maxBytes {
		r.fail(&yaml.Node{}, "", fmt.Sprintf("the file has %d bytes, more than 256 KiB", len(b)),
			"a sheet is a page of text: is this the right file?")
		return
	}
	at := yaml.Node{Line: 1, Column: 1}
	for text := bytes.TrimPrefix(b, []byte("\ufeff")); len(text) > 0; {
		c, size := utf8.DecodeRune(text)
		switch {
		case c == utf8.RuneError && size == 1:
			r.fail(&at, "", "the file is not UTF-8 text", "save it as UTF-8")
			return
		case c == '\n':
			at.Line, at.Column = at.Line+1, 0
		case c == '\r', c == '\t':
		case !unicode.IsPrint(c):
			if len(r.errs) == 10 { // enough to see what file this is
				return
			}
			r.fail(&at, "", fmt.Sprintf("the character %U cannot be seen", c), "delete it, or put a plain space for it")
		}
		at.Column++
		text = text[size:]
	}
}

var syntaxError = regexp.MustCompile(`^(?:yaml: )?(?:line ([0-9]+): )?((?s).*)$`)

// parse reads one YAML document; its root is the node below the document.
func (r *reader) parse(b []byte) *yaml.Node {
	var doc, second yaml.Node
	d := yaml.NewDecoder(bytes.NewReader(b))
	err := d.Decode(&doc)
	if errors.Is(err, io.EOF) {
		r.fail(&yaml.Node{}, "", "the file is empty", "begin with a copy of one of the examples")
		return nil
	}
	if err != nil {
		at, what := syntax(err)
		r.fail(at, "", "this is no YAML: "+what,
			"look at this line and its neighbours: a colon and a space after each name, the same spaces before names of one group, no tabs")
		return nil
	}
	if err = d.Decode(&second); !errors.Is(err, io.EOF) {
		at := &second
		if err != nil {
			at, _ = syntax(err)
		}
		r.fail(at, "", "the file has more than one document", "keep one file for each, without a line of three dashes between")
	}
	return doc.Content[0]
}

// syntax takes an error of the YAML reader apart. It knows lines, no columns.
func syntax(err error) (at *yaml.Node, what string) {
	text := syntaxError.FindStringSubmatch(err.Error())
	line, err := strconv.Atoi(text[1])
	if err != nil {
		line = 1
	}
	return &yaml.Node{Line: line, Column: 1}, text[2]
}
