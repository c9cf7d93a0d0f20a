package page

import "fmt"

// Sizes of the map, mm (assumptions: what the page has room for).
const (
	mapWidth  = 92
	mapHeight = 24
	mapCorner = 6 // radius of a corner that takes no station
)

// drawMap draws a tank's outline from above, its front pane below, its corners dashed.
func drawMap() *drawing {
	const left, top, right, front = 0.5, 3.5, mapWidth - 0.5, mapHeight - 4
	d := &drawing{
		Title: "Map of the stations: the tank from above, the front pane at the bottom, the corners marked as unfit for a station",
		Width: mapWidth, Height: mapHeight,
	}
	d.box("firm", left, top, right-left, front-top)
	d.line("pane", left, front, right, front)
	for _, corner := range []struct{ x, y, dx, dy float64 }{
		{left, top, 1, 1}, {right, top, -1, 1}, {right, front, -1, -1}, {left, front, 1, -1},
	} {
		sweep := 1 // so that the arc bulges into the tank
		if corner.dx*corner.dy < 0 {
			sweep = 0
		}
		const r = mapCorner
		d.path("cut", fmt.Sprintf("M%v %vA%d %d 0 0 %d %v %v", millimetres(corner.x+r*corner.dx), millimetres(corner.y),
			r, r, sweep, millimetres(corner.x), millimetres(corner.y+r*corner.dy)))
	}
	d.text(mapWidth/2, top-0.9, sketchLetter, "middle", "back")
	d.boldText(mapWidth/2, mapHeight-0.8, sketchLetter, "middle", "front pane")
	return d
}
