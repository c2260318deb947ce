package console

import (
	_ "embed"
	"html/template"
	"io"
)

// pagesTemplate is the whole document: no scripts, nothing from outside.
//
//go:embed pages.html
var pagesTemplate string

// HTML writes pages as one document, each on a sheet of its own. It is well-formed
// as XML too, so that a test can tell what is in it.
func (w Work) HTML(out io.Writer, pages []Leaf) error {
	t, err := template.New("pages").Funcs(template.FuncMap{"clean": clean}).Parse(pagesTemplate)
	if err != nil {
		return err
	}
	return t.Execute(out, map[string]any{"Name": w.sheetName(), "Pages": pages})
}
