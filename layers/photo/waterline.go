package photo

import (
	"math"
	"slices"
)

// Water shows what lies far behind the pane, plants and walls, out of focus; a bed shows its flocs and grains at the
// pane. So where no surface is marked the bed begins where the picture turns redder, sharp and coarse.

// How the bed surface is found (assumptions, tried on path-traced and drawn beds).
const (
	waterLag     = 1.0  // mm across, between places whose light is compared for coarse texture
	waterRows    = 0.75 // mm above and below a row that count for its texture
	waterWide    = 3.0  // mm of width that are looked at by themselves, so that a leaf before the water doesn't count
	waterAgainst = 3.0  // mm above that are compared with
	bedAgainst   = 6.0  // mm below

	redShare    = 0.1  // what a CIELAB unit toward red counts beside a factor e of the finest texture
	mostRedder  = 15.0 // CIELAB units, of which more count no more
	coarseShare = 0.5  // what a factor of coarse texture counts beside the same of the finest
	mostTexture = 1.0  // ln of a factor, of which more counts no more
	surfaceSeen = 0.8  // sum of these at the bed surface, at least
	upperShare  = 0.75 // of the greatest such sum: an edge below, of rust or gravel, may stand out more
)

// shore is where the water ends.
type shore struct {
	row   float64
	sharp bool    // the bed is sharper than the water; else the row is by their colours alone
	by    float64 // by which it is sharper, ln of a factor
}

// waterline is where the water ends; false: none is seen.
func (f *field) waterline() (at shore, found bool) { return f.turns().waterline() }

func (t *turns) waterline() (at shore, found bool) {
	f := t.field
	least := t.least()
	first := slices.IndexFunc(t.sums, func(sum float64) bool { return sum >= least })
	if first < 0 {
		return shore{}, false
	}
	whole := func(r int) float64 { return redShare*t.redder[r] + t.sharper[r] + coarseShare*t.coarser[r] }
	turn := first
	for r := first; r < min(f.rows, first+f.rowsOf(bedAgainst)); r++ {
		if whole(r) > whole(turn) {
			turn = r
		}
	}
	return f.meet(turn, t.fine, t.hues), true
}

// least is the sum from which on a row may be the bed surface.
func (t *turns) least() float64 { return max(surfaceSeen, upperShare*slices.Max(t.sums)) }

// others are the rows that stand out among those within bedAgainst, and might be the bed surface too.
func (t *turns) others() (rows []float64) {
	least, reach := t.least(), t.field.rowsOf(bedAgainst)
	for r, sum := range t.sums {
		if sum >= least && sum == slices.Max(t.sums[max(0, r-reach):min(len(t.sums), r+reach+1)]) {
			rows = append(rows, float64(r))
		}
	}
	return rows
}

// turns are by how much, row by row, the picture is redder, sharper and coarser below than above.
type turns struct {
	field                    *field
	redder, sharper, coarser []float64
	sums                     []float64 // what they count together
	fine                     []float64
	hues                     signal
}

// texture is what a row's turn to sharp and coarse counts.
func (t *turns) texture(row int) float64 {
	return min(t.sharper[row], mostTexture) + coarseShare*min(t.coarser[row], mostTexture)
}

// rowsOf is a height in rows.
func (f *field) rowsOf(mm float64) int { return int(math.Round(mm / f.pitch)) }

func (f *field) turns() *turns {
	fine, coarse := f.textures(1, false), f.textures(max(2, f.rowsOf(waterLag)), true)
	rows := func() []float64 { return make([]float64, f.rows) }
	t := &turns{f, rows(), rows(), rows(), rows(), fine, f.hues()}
	near, up, down := f.rowsOf(waterRows), f.rowsOf(waterAgainst), f.rowsOf(bedAgainst)
	top, foot := f.seenRows()
	for r := top + 3*near; r < foot-3*near; r++ {
		from, to := max(top+near, r-up), min(foot-near, r+down)
		turn := func(of []float64) float64 { return max(0, mean(of[r+near:to])-mean(of[from:r-near+1])) }
		t.redder[r] = max(0, t.hues.between(r+near, to)[1]-t.hues.between(from, r-near+1)[1])
		t.sharper[r], t.coarser[r] = turn(fine), turn(coarse)
		t.sums[r] = redShare*min(t.redder[r], mostRedder) + t.texture(r)
	}
	return t
}

// seenRows are the first row of which half is seen and the row after the last: a tilted pane's grid reaches beyond the
// picture.
func (f *field) seenRows() (top, foot int) {
	half := func(row int) bool {
		n := 0
		for b := range f.blocks {
			if _, seen := f.at(row, b); seen {
				n++
			}
		}
		return 2*n >= f.blocks
	}
	for top < f.rows && !half(top) {
		top++
	}
	for foot = f.rows; foot > top && !half(foot-1); foot-- {
	}
	return top, foot
}

// hues are the field's colours row by row.
func (f *field) hues() signal { return f.level(warp{at: make([][]float64, f.blocks)}) }

// How the water's end is met exactly, mm from where it was found roughly (assumptions, tried alike).
const (
	meetSkip  = 2.0 // on both sides, where water and bed may mix
	meetWater = 6.0 // above, up to which it is water
	meetBed   = 8.0 // below, down to which it is bed
	meetAlike = 2.5 // that the ends by texture and by colour may lie apart and both count
	meetSharp = 0.5 // ln of a factor of the finest texture, at least, for it to count
)

// meet is the row with as much bed above it as water below, by the finest texture and by colour. What lies behind the
// pane, a bed's top that recedes, has the colour but not the sharpness.
func (f *field) meet(at int, fine []float64, hues signal) shore {
	top, water := max(0, at-f.rowsOf(meetWater)), max(1, at-f.rowsOf(meetSkip))
	bed, foot := min(f.rows-1, at+f.rowsOf(meetSkip)), min(f.rows, at+f.rowsOf(meetBed))
	if top >= water || bed >= foot {
		return shore{row: float64(at)}
	}
	calm, rough := median(slices.Clone(fine[top:water])), median(slices.Clone(fine[bed:foot]))
	energy := func(r int) float64 { return math.Exp(2 * fine[r]) }
	ground, full := math.Exp(2*calm), math.Exp(2*rough)
	byTexture := between(top, foot, func(r int) float64 { return (energy(r) - ground) / (full - ground) })
	above, below := hues.between(top, water), hues.between(bed, foot)
	turn := apart(above, below)
	byColour := between(top, foot, func(r int) (share float64) {
		for c := range above {
			share += (hues.value[r][c] - above[c]) * (below[c] - above[c]) / (turn * turn)
		}
		return share
	})
	switch far := math.Abs(byTexture-byColour) * f.pitch; {
	case rough-calm < meetSharp:
		return shore{row: byColour, by: rough - calm}
	case far > meetAlike:
		return shore{byTexture, true, rough - calm}
	}
	return shore{(2*byTexture + byColour) / 3, true, rough - calm}
}

// between is the row with as much of the lower thing above it as of the upper one below, from the share of the lower in
// each row.
func between(top, foot int, lower func(row int) float64) float64 {
	edge := float64(top)
	for r := top; r < foot; r++ {
		edge += 1 - min(max(0, lower(r)), 1)
	}
	return edge
}

// between is the mean colour of some rows, CIELAB, as far as they are seen.
func (s signal) between(from, to int) (mean [3]float64) {
	n := [3]float64{}
	for r := from; r < to; r++ {
		for c := range mean {
			if s.weight[r][c] > 0 {
				mean[c], n[c] = mean[c]+s.value[r][c], n[c]+1
			}
		}
	}
	for c := range mean {
		mean[c] /= max(1, n[c])
	}
	return mean
}

// textures are ln of how much ln luminance differs between cells so far apart across each row, the median over the
// strip's width; smooth: each the mean of four, so that a pixel's noise counts less.
func (f *field) textures(lag int, smooth bool) []float64 {
	wide := max(1, int(math.Round(waterWide/f.width))) * f.wide
	parts, reach := max(1, f.cols/wide), int(math.Round(waterRows/f.pitch))
	squares, pairs := make([][]float64, parts), make([][]float64, parts)
	for p := range parts {
		squares[p], pairs[p] = make([]float64, f.rows+1), make([]float64, f.rows+1)
		for r := range f.rows {
			squares[p][r+1], pairs[p][r+1] = squares[p][r], pairs[p][r]
			for c := p * wide; c < min((p+1)*wide, f.cols-lag-1); c++ {
				if d := float64(f.lightAt(r, c, smooth) - f.lightAt(r, c+lag, smooth)); !math.IsNaN(d) {
					squares[p][r+1] += d * d
					pairs[p][r+1]++
				}
			}
		}
	}
	list := make([]float64, f.rows)
	var seen []float64
	for r := range list {
		from, to := max(0, r-reach), min(f.rows, r+reach+1)
		seen = seen[:0]
		for p := range parts {
			if n := pairs[p][to] - pairs[p][from]; n > 0 {
				seen = append(seen, (squares[p][to]-squares[p][from])/n)
			}
		}
		if len(seen) > 0 {
			list[r] = math.Log(max(leastTexture, math.Sqrt(median(seen))))
		}
	}
	return list
}

// leastTexture is the deviation of ln luminance up to which all is calm (assumption).
const leastTexture = 0.05

// lightAt is a cell's ln luminance, or the mean of it and its neighbours to the right and below.
func (f *field) lightAt(row, col int, smooth bool) float32 {
	at := row*f.cols + col
	if !smooth || row+1 == f.rows {
		return f.log[at]
	}
	return (f.log[at] + f.log[at+1] + f.log[at+f.cols] + f.log[at+f.cols+1]) / 4
}
