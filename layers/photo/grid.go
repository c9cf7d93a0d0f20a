package photo

import (
	"math"
	"sync"

	"panecore/layers/photo/picture"
	"panecore/palette"
)

// A cell of the grid is finestCell millimetres wide and high, or two pixels where the
// photo is coarser: one chroma sample of a usual JPEG (assumptions).
const (
	finestCell = 0.2
	pixelsCell = 2
)

// grid is the strip, turned upright along the depth axis and averaged into square cells in
// linear light, from the top row down.
type grid struct {
	frame
	pitch      float64 // mm per cell
	rows, cols int
	centreX    float64 // middle of the first row's upper edge, pixels
	centreY    float64
	light      []palette.Linear // row by row, uncorrected linear sRGB
	pixels     []uint16         // in each cell
	burnt      []uint16         // of those, over-exposed in a channel
	shutter    window           // whose light was taken off
	painted    []Disc           // not to be read
	tilt       *Plane           // from the first cell's corner; nil: the pane is seen straight on
}

// Levels at which a channel counts as burnt or drowned: 250 and 5 of 255, in linear light of 0
// to 65535 (assumptions).
const (
	burntLevel   = 62651
	drownedLevel = 99
)

// straight lays a grid over a strip of width w and height h, centred on centreX and down from y0, in pixels along the
// frame's axes.
func (f frame) straight(centreX, y0, w, h float64) *grid {
	pitch := math.Max(finestCell, pixelsCell/f.pxPerMM)
	cell := pitch * f.pxPerMM
	return &grid{
		frame: f, pitch: pitch, centreX: centreX, centreY: y0,
		rows: max(1, int(h/cell)), cols: max(1, int(w/cell)),
	}
}

// sample reads a strip that straight lays.
func sample(p *picture.Picture, f frame, centreX, y0, w, h float64) *grid {
	g := f.straight(centreX, y0, w, h)
	g.read(p)
	return g
}

// read averages the picture into the cells.
func (g *grid) read(p *picture.Picture) {
	sums := g.collect(p)
	g.pixels, g.burnt = sums.pixels, sums.burnt
	g.light = make([]palette.Linear, g.rows*g.cols)
	for i, sum := range sums.light {
		if g.pixels[i] == 0 {
			continue
		}
		scale := 1 / (65535 * float64(g.pixels[i]))
		g.light[i] = p.SRGB([3]float64{float64(sum[0]) * scale, float64(sum[1]) * scale, float64(sum[2]) * scale})
	}
}

// tally is the sum over each cell.
type tally struct {
	light  [][3]uint32
	pixels []uint16
	burnt  []uint16
}

func newTally(cells int) *tally {
	return &tally{make([][3]uint32, cells), make([]uint16, cells), make([]uint16, cells)}
}

// put adds a pixel to a cell.
func (t *tally) put(at int, px *picture.Light) {
	sum := &t.light[at]
	sum[0] += uint32(px[0])
	sum[1] += uint32(px[1])
	sum[2] += uint32(px[2])
	t.pixels[at]++
	if max(px[0], px[1], px[2]) >= burntLevel {
		t.burnt[at]++
	}
}

func (t *tally) add(other *tally) {
	for i := range t.light {
		for c := range t.light[i] {
			t.light[i][c] += other.light[i][c]
		}
		t.pixels[i] += other.pixels[i]
		t.burnt[i] += other.burnt[i]
	}
}

// collectors is how many goroutines share the picture's rows.
const collectors = 2

// collect adds every pixel of the strip to its cell.
func (g *grid) collect(p *picture.Picture) *tally {
	low, high := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, c := range g.quad(0, float64(g.rows), 0, float64(g.cols)) {
		low, high = Point{min(low.X, c.X), min(low.Y, c.Y)}, Point{max(high.X, c.X), max(high.Y, c.Y)}
	}
	x0, y0 := max(0, int(math.Floor(low.X))), max(0, int(math.Floor(low.Y)))
	x1, y1 := max(x0, min(p.Width, int(math.Ceil(high.X)))), min(p.Height, int(math.Ceil(high.Y)))
	collectRow := g.collectRow
	if g.tilt != nil {
		collectRow = g.collectTilted
	}
	var tallies [collectors]*tally
	var crew sync.WaitGroup
	for i := range tallies {
		tallies[i] = newTally(g.rows * g.cols)
		from, to := y0+(y1-y0)*i/collectors, y0+(y1-y0)*(i+1)/collectors
		crew.Go(func() {
			row := make([]picture.Light, x1-x0)
			for y := from; y < to; y++ {
				p.Row(row, x0, y)
				collectRow(row, x0, y, tallies[i])
			}
		})
	}
	crew.Wait()
	for _, other := range tallies[1:] {
		tallies[0].add(other)
	}
	return tallies[0]
}

func (g *grid) collectRow(row []picture.Light, x0, y int, t *tally) {
	cell := g.pitch * g.pxPerMM
	dx, dy := float64(x0)+0.5-g.centreX, float64(y)+0.5-g.centreY
	// across and down count cells; a pixel to the right adds (downY, downX)/cell.
	across := (dx*g.downY-dy*g.downX)/cell + float64(g.cols)/2
	down := (dx*g.downX + dy*g.downY) / cell
	stepAcross, stepDown := g.downY/cell, g.downX/cell
	cols, rows := float64(g.cols), float64(g.rows)
	for i := range row {
		if across >= 0 && across < cols && down >= 0 && down < rows {
			t.put(int(down)*g.cols+int(across), &row[i])
		}
		across += stepAcross
		down += stepDown
	}
}

// collectTilted is collectRow through the plane: across and down are cells times w, and all three grow evenly along a
// row of pixels.
func (g *grid) collectTilted(row []picture.Light, x0, y int, t *tally) {
	m := g.tilt.back()
	px, py := float64(x0)+0.5, float64(y)+0.5
	across := (m[0]*px + m[1]*py + m[2]) / g.pitch
	down := (m[3]*px + m[4]*py + m[5]) / g.pitch
	w := m[6]*px + m[7]*py + m[8]
	cols, rows := float64(g.cols), float64(g.rows)
	for i := range row {
		if column, line := across/w, down/w; column >= 0 && column < cols && line >= 0 && line < rows {
			t.put(int(line)*g.cols+int(column), &row[i])
		}
		across += m[0] / g.pitch
		down += m[3] / g.pitch
		w += m[6]
	}
}
