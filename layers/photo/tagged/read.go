package tagged

import (
	"slices"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"

	"panecore/layers/photo"
	"panecore/layers/tag"
)

// sharpenings are how much of a module's difference from its four neighbours is added to it before it is called black
// or white: a blurred lens mixes them (assumptions).
var sharpenings = [...]float64{0, 0.25, 0.5, 0.9}

// neighbours is how far around a module the light is compared, modules.
const neighbours = 4

// texts reads the code's modules through a plane and decodes them, in as many ways as there are sharpenings. A text is
// one that the code's own check bytes confirm.
func texts(c *patch, h photo.Plane, side int) (list []string) {
	light, ok := modules(c, h, newPattern(side, nil))
	if !ok {
		return nil
	}
	for _, sharper := range sharpenings {
		read, err := decoder.NewDecoder().DecodeBoolMapWithoutHint(blackModules(light, side, sharper))
		if err == nil && !slices.Contains(list, read.GetText()) {
			list = append(list, read.GetText())
		}
	}
	return list
}

// modules are the light of the modules, each the mean of nine places in it; false: not all are in the patch.
func modules(c *patch, h photo.Plane, p *pattern) (light []float64, ok bool) {
	light = make([]float64, p.side*p.side)
	for y := range p.side {
		for x := range p.side {
			for i := range 9 {
				at := h.At(p.middle(x)+0.22*float64(i%3-1)*p.module, p.middle(y)+0.22*float64(i/3-1)*p.module)
				v, inside := c.at(at.X, at.Y)
				if !inside {
					return nil, false
				}
				light[y*p.side+x] += v / 9
			}
		}
	}
	return light, true
}

// blackModules calls modules black that are darker than the middle between the lightest and darkest around them.
func blackModules(light []float64, side int, sharper float64) [][]bool {
	sharp := make([]float64, len(light))
	for y := range side {
		for x := range side {
			var sum, n float64
			for _, d := range [][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
				if nx, ny := x+d[0], y+d[1]; nx >= 0 && ny >= 0 && nx < side && ny < side {
					sum += light[ny*side+nx]
					n++
				}
			}
			v := light[y*side+x]
			sharp[y*side+x] = v + sharper*(v-sum/n)
		}
	}
	grid := make([][]bool, side)
	var around []float64
	for y := range grid {
		grid[y] = make([]bool, side)
		for x := range side {
			around = around[:0]
			for ny := max(0, y-neighbours); ny <= min(side-1, y+neighbours); ny++ {
				from, to := max(0, x-neighbours), min(side-1, x+neighbours)
				around = append(around, sharp[ny*side+from:ny*side+to+1]...)
			}
			slices.Sort(around)
			grid[y][x] = sharp[y*side+x] < (around[len(around)/6]+around[len(around)-1-len(around)/6])/2
		}
	}
	return grid
}

// same is the share of modules that a code has as they were read.
func same(grid [][]bool, code *tag.Code) float64 {
	n := 0
	for y := range grid {
		for x := range grid[y] {
			if grid[y][x] == code.Black(x, y) {
				n++
			}
		}
	}
	return float64(n) / float64(code.Side*code.Side)
}
