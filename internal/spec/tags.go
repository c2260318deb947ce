package spec

import (
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"

	"github.com/go-playground/validator/v10"
)

// checker reads the validate tags of the types in package sheet. Fields are
// named as files name them.
var checker = sync.OnceValue(func() *validator.Validate {
	v := validator.New(validator.WithRequiredStructEnabled())
	v.RegisterTagNameFunc(yamlName)
	return v
})

// tags checks what each field must hold by itself.
func (r *reader) tags(value any) {
	var bad validator.ValidationErrors
	if err := checker().Struct(value); !errors.As(err, &bad) {
		return
	}
	for _, f := range bad {
		_, path, _ := strings.Cut(f.Namespace(), ".") // the first word is the type
		what, hint := r.explain(f, path)
		r.failAt(path, what, hint)
	}
}

// explain says what a tag that was broken means, and what would be right.
func (r *reader) explain(f validator.FieldError, path string) (what, hint string) {
	if !r.has(path) {
		return missing, wanted(f)
	}
	switch f.Tag() {
	case "required":
		return "this is empty", wanted(f)
	case "oneof":
		word := fmt.Sprint(f.Value())
		if f.Kind() == reflect.String {
			return quote(word) + " is not known here", nearest(word, strings.Fields(f.Param()))
		}
		return word + " is not known here", wanted(f)
	}
	switch f.Kind() {
	case reflect.Slice:
		return fmt.Sprintf("%d entries stand here", reflect.ValueOf(f.Value()).Len()), wanted(f)
	case reflect.String:
		return fmt.Sprintf("the text has %d characters", len([]rune(fmt.Sprint(f.Value())))), wanted(f)
	}
	return fmt.Sprintf("%v is out of bounds", f.Value()), wanted(f)
}

// missing is said of a field that the file does not have.
const missing = "this is missing"

// wanted says what a tag asks for, in the unit of the field.
func wanted(f validator.FieldError) string {
	switch f.Tag() {
	case "oneof":
		return "wanted: one of " + strings.Join(strings.Fields(f.Param()), ", ")
	case "gt":
		return "wanted: more than " + bound(f)
	case "gte", "min":
		return "wanted: at least " + bound(f)
	case "lte", "max":
		return "wanted: at most " + bound(f)
	}
	return "every such file has it: copy the line from an example"
}

// bound is the number in a tag, which stands there in SI units.
func bound(f validator.FieldError) string {
	t := f.Type()
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch t.Kind() {
	case reflect.Float64:
		number, _ := strconv.ParseFloat(f.Param(), 64) // the validator has read it
		return fmt.Sprint(reflect.ValueOf(number).Convert(t))
	case reflect.Slice:
		return plural(f.Param(), "entry", "entries")
	case reflect.String:
		return plural(f.Param(), "character", "characters")
	}
	return f.Param()
}

func plural(count, one, many string) string {
	if count == "1" {
		return count + " " + one
	}
	return count + " " + many
}
