package casefile

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"example.com/powerup/internal/spec"
)

// Reader reads cases one after the other: objects, or arrays of objects.
type Reader struct {
	name    string
	dec     *json.Decoder
	count   int
	inArray bool
	ended   bool
}

// NewReader reads from in, which errors call by the given name.
func NewReader(name string, in io.Reader) *Reader {
	dec := json.NewDecoder(in)
	dec.UseNumber()
	return &Reader{name: name, dec: dec}
}

// Next is the next case, or io.EOF after the last. A [spec.Errors] tells all that
// is wrong with one case, and the cases after it can still be read, unless it is
// no JSON: io.EOF follows then. Any other error is one of reading.
func (r *Reader) Next() (*Case, error) {
	for !r.ended {
		t, err := r.dec.Token()
		switch {
		case errors.Is(err, io.EOF) && !r.inArray:
			return nil, r.end()
		case err != nil:
			r.count++
			return nil, r.broken(err)
		case t == json.Delim('[') && !r.inArray:
			r.inArray = true
		case t == json.Delim(']'):
			r.inArray = false
		default:
			r.count++
			return r.element(t)
		}
	}
	return nil, io.EOF
}

// end is the end of the text. One without a case is refused: whoever made it
// meant to ask something.
func (r *Reader) end() error {
	r.ended = true
	if r.count == 0 {
		return spec.Errors{{File: r.name, What: "there is no case in it", Hint: `a case is a JSON object: {"topology": "FW_CT", ...}`}}
	}
	return io.EOF
}

// element reads the rest of what begins with t, which should be a case.
func (r *Reader) element(t json.Token) (*Case, error) {
	if t != json.Delim('{') {
		if _, err := r.rest(t); err != nil {
			return nil, r.broken(err)
		}
		return nil, spec.Errors{r.fault("", "it is no JSON object", `a case is {"topology": "FW_CT", ...}`)}
	}
	w := newRow(r.count, r.fault)
	for {
		name, err := r.dec.Token()
		if err != nil {
			return nil, r.broken(err)
		}
		if name == json.Delim('}') {
			return w.build()
		}
		value, err := r.value()
		if err != nil {
			return nil, r.broken(err)
		}
		w.take(name.(string), value) // the decoder lets nothing else be a key
	}
}

// nested is an object or an array where one value should be.
type nested struct{}

func (r *Reader) value() (any, error) {
	t, err := r.dec.Token()
	if err != nil {
		return nil, err
	}
	return r.rest(t)
}

// rest reads on to the end of what begins with t. Depth is counted, not called.
func (r *Reader) rest(t json.Token) (any, error) {
	if _, opens := t.(json.Delim); !opens {
		return t, nil
	}
	for depth := 1; depth > 0; {
		t, err := r.dec.Token()
		if err != nil {
			return nil, err
		}
		switch t {
		case json.Delim('{'), json.Delim('['):
			depth++
		case json.Delim('}'), json.Delim(']'):
			depth--
		}
	}
	return nested{}, nil
}

// broken ends the reading at text that is no JSON.
func (r *Reader) broken(err error) error {
	r.ended = true
	var syntax *json.SyntaxError
	switch {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return spec.Errors{r.fault("", "the text ends before the case does", "a case cut short is not solved")}
	case errors.As(err, &syntax):
		what := fmt.Sprintf("no JSON at byte %d: %v", r.dec.InputOffset(), err)
		return spec.Errors{r.fault("", what, "nothing after it is read; NaN and Infinity are no JSON either: null where a value does not apply")}
	}
	return fmt.Errorf("%s: %w", r.name, err)
}

// fault is one thing wrong with the case that is being read.
func (r *Reader) fault(field, what, hint string) *spec.Error {
	return &spec.Error{File: fmt.Sprintf("%s: case %d", r.name, r.count), Field: field, What: what, Hint: hint}
}
