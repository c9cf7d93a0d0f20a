package trend

import "math"

// At is where a station's course stood at a time, mm, with its standard deviation, under the likeliest
// way the tank's may go.
func (f *Fit) At(station int, t float64) (value, deviation float64) {
	s := f.mode
	course := make([]float64, s.size)
	s.course.at(t, course)
	asked := target{course: course, stations: make([][]float64, len(s.blocks))}
	asked.stations[station] = make([]float64, s.blocks[station].own.n)
	s.course.station(s.blocks[station].removals, t, asked.stations[station])
	s.reduce(&asked)
	open := s.open(&asked)
	return s.value(&asked) + f.weighing.middle + s.course.turn.mean(t), math.Sqrt(asked.variance+dot(open, open)) * Student(1, f.Freedom)
}
