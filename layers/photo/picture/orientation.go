package picture

// An orientation is how the pixels are stored (EXIF 2.3, tag 0x0112): 1 upright, 2 to 4
// mirrored or upside down, 5 to 8 with rows and columns swapped.
type orientation uint8

const upright orientation = 1

// turned reports whether stored rows are upright columns.
func (o orientation) turned() bool { return o >= 5 }

// A run is a line of stored pixels from (x, y) on, in steps of (dx, dy): one of these is 0, the
// other 1 or -1.
type run struct{ x, y, dx, dy int }

// stored is the run that appears as a row, from (x, y) to the right, in the upright picture of
// a size.
func (o orientation) stored(x, y, width, height int) run {
	r := run{x: x, y: y, dx: 1}
	switch o {
	case 2, 3, 6, 7:
		r.x, r.dx = width-1-x, -1
	}
	switch o {
	case 3, 4, 7, 8:
		r.y = height - 1 - y
	}
	if o.turned() {
		r.x, r.y, r.dx, r.dy = r.y, r.x, r.dy, r.dx
	}
	return r
}
