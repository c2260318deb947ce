package main

import (
	"fmt"
	"io"

	"example.com/powerup/internal/checks"
	"example.com/powerup/internal/limits"
	"example.com/powerup/internal/plan"
	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/spec"
)

// refused lists all for which a set is not energised by this sheet, as an error
// of the caller's.
func (s source) refused() error {
	remarks, err := s.review()
	if err != nil {
		return usage(err)
	}
	if bad := of(sheet.Refuse, remarks); len(bad) > 0 {
		return usage(spec.PlaceRemarks(s.name, s.text, bad))
	}
	return nil
}

// review loads a set sheet and holds it against itself and its profile.
func (s source) review() ([]sheet.Remark, error) {
	set, err := spec.LoadSet(s.name, s.text)
	if err != nil {
		return nil, err
	}
	profile, ok := limits.ProfileOf(set.Mains.Profile)
	if !ok {
		return nil, nil // the plan says so
	}
	return review(set, profile), nil
}

// review holds a set sheet against itself, and its printed volts against its
// circuit.
func review(set *sheet.Set, p limits.Profile) []sheet.Remark {
	return append(set.Review(p), checks.ReviewPrinted(set, p)...)
}

// sayRemarks prints the warnings of a sheet's review, and how much it leaves
// out.
func sayRemarks(w io.Writer, s source, p *plan.Plan) {
	remarks := review(p.Set, p.Profile)
	for _, e := range spec.PlaceRemarks(s.name, s.text, of(sheet.Warn, remarks)) {
		complain(w, fmt.Errorf("warning: %w", e))
	}
	if n := len(of(sheet.Note, remarks)); n > 0 {
		complain(w, fmt.Errorf("%s leaves out %d things that would help\nhint: powerup vet %s lists them", s.name, n, s.name))
	}
}

func of(severity sheet.Severity, remarks []sheet.Remark) []sheet.Remark {
	var out []sheet.Remark
	for _, r := range remarks {
		if r.Severity == severity {
			out = append(out, r)
		}
	}
	return out
}
