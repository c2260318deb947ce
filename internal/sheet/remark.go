package sheet

import (
	"cmp"
	"slices"

	"example.com/powerup/internal/limits"
)

// Remark is one thing that a sheet's review has to say. Field is a path such as
// "mains.tap".
type Remark struct {
	Field    string
	Severity Severity
	What     string
	Hint     string
}

// Severity is the weight of a remark. The zero value is the heaviest.
type Severity uint8

// Refuse: the set is not energised by this sheet. Warn: what stands there is
// likely wrong, or hard on the set. Note: not on the sheet, with what that costs.
const (
	Refuse Severity = iota
	Warn
	Note
)

// String gives the severity in a word.
func (s Severity) String() string { return [...]string{"refuse", "warn", "note"}[min(s, Note)] }

// Review checks a sheet against itself, the valve data and a profile of limits,
// and lists what is missing. The gravest remarks come first.
func (s *Set) Review(p limits.Profile) []Remark {
	r := review{set: s, profile: p}
	r.minimum()
	r.heaters()
	r.watts()
	r.line()
	r.output()
	r.printed()
	r.missing()
	slices.SortStableFunc(r.remarks, func(a, b Remark) int { return cmp.Compare(a.Severity, b.Severity) })
	return r.remarks
}

// review collects the remarks on one sheet.
type review struct {
	set     *Set
	profile limits.Profile
	remarks []Remark
}

func (r *review) refuse(field, what, hint string) { r.add(field, Refuse, what, hint) }
func (r *review) warn(field, what, hint string)   { r.add(field, Warn, what, hint) }
func (r *review) note(field, what, hint string)   { r.add(field, Note, what, hint) }

func (r *review) add(field string, s Severity, what, hint string) {
	r.remarks = append(r.remarks, Remark{field, s, what, hint})
}
