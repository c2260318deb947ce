package console

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// The plot is drawn inside a frame of so many columns and rows.
const (
	plotColumns = 66
	plotRows    = 14
)

// The marks of a plot. Where two fall on one place the later hides the earlier:
// the end of the window before the bound it comes from, the expected value
// before all.
const (
	markRating   = '='
	markBand     = ':'
	markCold     = 'C'
	markLeast    = 'L'
	markMost     = 'M'
	markExpected = '*'
)

// plotPoint is HT1 at one mains voltage.
type plotPoint struct{ set, least, expected, most, cold float64 }

// scale is what one cell of an axis stands for, in volts.
type scale struct{ per float64 }

// scaleFor is the roundest scale on which top still lies inside cells.
func scaleFor(top float64, cells int) (scale, error) {
	for decade := 1.0; decade <= 1000; decade *= 10 {
		for _, step := range []float64{1, 2, 3, 4, 5} {
			if s := (scale{step * decade}); s.cell(top) >= 0 && s.cell(top) < cells {
				return s, nil
			}
		}
	}
	return scale{}, fmt.Errorf("%g V has no place on a plot", top)
}

// cell is where v falls, the nearest cell.
func (s scale) cell(v float64) int { return int(math.Round(v / s.per)) }

// canvas is the inside of a frame, the top row first.
type canvas [plotRows][plotColumns]rune

// put draws a mark at a cell counted from the lower left corner.
func (c *canvas) put(column, row int, mark rune) { c[plotRows-1-row][column] = mark }

// plotHT draws HT1 against the mains volts at the set, as lines of at most 76
// columns. rating, 0 for none, is drawn across when it is within the range of
// the points, and rated tells whether it was. Values that are not finite, or under nothing, are refused.
func plotHT(points []plotPoint, rating float64) (lines []string, rated bool, err error) {
	right, top, err := reach(points)
	if err != nil {
		return nil, false, err
	}
	x, err := scaleFor(right, plotColumns)
	if err != nil {
		return nil, false, err
	}
	y, err := scaleFor(top, plotRows)
	if err != nil {
		return nil, false, err
	}
	var c canvas
	c.blank()
	rated = across(rating, y)
	if rated {
		for column := range plotColumns {
			c.put(column, y.cell(rating), markRating)
		}
	}
	c.points(points, x, y)
	return c.framed(x, y), rated, nil
}

// across tells whether a rating has a row of its own on the plot.
func across(rating float64, y scale) bool {
	return rating > 0 && y.cell(rating) >= 0 && y.cell(rating) < plotRows
}

// reach is how far the points go on either axis.
func reach(points []plotPoint) (right, top float64, err error) {
	for _, p := range points {
		for _, v := range []float64{p.set, p.least, p.expected, p.most, p.cold} {
			if !(v >= 0 && v <= math.MaxFloat64) {
				return 0, 0, fmt.Errorf("%g V cannot be drawn", v)
			}
		}
		right, top = max(right, p.set), max(top, p.least, p.expected, p.most, p.cold)
	}
	if !(right > 0 && top > 0) {
		return 0, 0, errors.New("nothing to draw")
	}
	return right, top, nil
}

func (c *canvas) blank() {
	for row := range c {
		for column := range c[row] {
			c[row][column] = ' '
		}
	}
}

// points draws kind after kind, so that what hides what does not hang on the
// order of the steps.
func (c *canvas) points(points []plotPoint, x, y scale) {
	for _, p := range points {
		for row := y.cell(p.least); row <= y.cell(p.most); row++ {
			c.put(x.cell(p.set), row, markBand)
		}
	}
	for _, kind := range []struct {
		mark rune
		of   func(plotPoint) float64
	}{
		{markCold, func(p plotPoint) float64 { return p.cold }},
		{markLeast, func(p plotPoint) float64 { return p.least }},
		{markMost, func(p plotPoint) float64 { return p.most }},
		{markExpected, func(p plotPoint) float64 { return p.expected }},
	} {
		for _, p := range points {
			c.put(x.cell(p.set), y.cell(kind.of(p)), kind.mark)
		}
	}
}

// ticks are this many cells apart.
const (
	columnTick = 10
	rowTick    = 2
)

// framed gives the canvas its axes, with a label at every tick.
func (c *canvas) framed(x, y scale) []string {
	var out []string
	for i, row := range c {
		label := ""
		if at := plotRows - 1 - i; at%rowTick == 0 {
			label = fmt.Sprintf("%g", float64(at)*y.per)
		}
		out = append(out, strings.TrimRight(fmt.Sprintf("%6s |%s", label, string(row[:])), " "))
	}
	axis, labels := strings.Repeat(" ", 7)+"+", strings.Repeat(" ", 8)
	for column := 0; column < plotColumns; column += columnTick {
		axis += "|" + strings.Repeat("-", min(columnTick, plotColumns-column)-1)
		labels += fmt.Sprintf("%-*s", columnTick, fmt.Sprintf("%g", float64(column)*x.per))
	}
	return append(out, axis, strings.TrimRight(labels, " "))
}
