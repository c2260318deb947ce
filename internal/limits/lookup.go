package limits

import (
	"cmp"
	"slices"

	"example.com/powerup/internal/unit"
)

// Both tables are sorted by id and never change after they are built.
var (
	figures = sorted(Figure.id,
		figuresProof, figuresMains, figuresBench, figuresDead, figuresLamp,
		figuresHeater, figuresRamp, figuresOutput, figuresSoak, figuresSpread,
		figuresReform, profileFigures(profiles))
	bands = sorted(Band.id, bandsDead, bandsEnergised, bandsExtra)
)

// Lookup returns the figure of that id. It panics on an id the tables do not
// have: a mistake of the programmer, which any test of the caller finds.
func Lookup(id string) Figure { return find(figures, Figure.id, id) }

// BandOf returns the band of that check, and panics as [Lookup] does.
func BandOf(id string) Band { return find(bands, Band.id, id) }

// All returns every figure, sorted by id.
func All() []Figure { return slices.Clone(figures) }

// Bands returns every band, sorted by id.
func Bands() []Band { return slices.Clone(bands) }

func (f Figure) id() string { return f.ID }

func (b Band) id() string { return b.ID }

func sorted[T any](id func(T) string, tables ...[]T) []T {
	all := slices.Concat(tables...)
	slices.SortStableFunc(all, func(a, b T) int { return cmp.Compare(id(a), id(b)) })
	return all
}

func find[T any](table []T, id func(T) string, want string) T {
	i, ok := slices.BinarySearchFunc(table, want, func(row T, want string) int {
		return cmp.Compare(id(row), want)
	})
	if !ok {
		panic("limits: no entry " + want)
	}
	return table[i]
}

// Rows of the tables, one function a mark. The value comes before the words, so
// that a column of figures can be read down.

type measure interface{ Quantity() unit.Quantity }

func practice(id string, value measure, what string) Figure {
	return Figure{ID: id, What: what, Value: value.Quantity(), Mark: Practice}
}

func memory(id string, value measure, what, source string) Figure {
	return Figure{ID: id, What: what, Value: value.Quantity(), Mark: Memory, Source: source}
}

func computed(id string, value measure, what, source string) Figure {
	return Figure{ID: id, What: what, Value: value.Quantity(), Mark: Computed, Source: source}
}

func seen(id string, value measure, what, source string) Figure {
	return Figure{ID: id, What: what, Value: value.Quantity(), Mark: Seen, Source: source}
}

// because adds the reason.
func (f Figure) because(why string) Figure {
	f.Why = why
	return f
}

// number is a ratio, a count, an exponent, or a size this module has no unit
// for; What then names the unit.
type number float64

func (n number) Quantity() unit.Quantity {
	return unit.Quantity{Kind: unit.KindNumber, Value: float64(n)}
}

const (
	minute unit.Second = 60
	hour               = 60 * minute
)
