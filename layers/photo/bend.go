package photo

import (
	"errors"
	"slices"

	"panecore/layers"
)

// bend pulls parts of the edges as a keeper bends them. An edge becomes deeper by the mean of its pull over the strip's
// width. It runs straight over a bump, and its depth is that of the rest. Edges without a bend stay where they are, and no
// edge crosses another.
func (s *strata) bend(bends []layers.Bend) error {
	if !slices.ContainsFunc(bends, bent) {
		return nil
	}
	for _, b := range bends {
		if err := b.Check(); err != nil {
			return err
		}
	}
	s.bends = bends
	for k, b := range bends {
		if !bent(b) {
			continue
		}
		shift, seen := s.pull(k, b)
		if !seen {
			return errors.New("found an edge with all that is seen of it left out, want a part that counts")
		}
		s.level[k] += shift
	}
	return nil
}

func bent(b layers.Bend) bool { return len(b) > 0 }

// pull bends an edge, and returns by how many rows that makes it deeper; false: all of it is left out.
func (s *strata) pull(k int, b layers.Bend) (shift float64, seen bool) {
	var all, rest []float64 // its rows as traced
	bump := make([]bool, len(s.at))
	pulled := 0.0
	for block := range s.at {
		x := (float64(block) + 0.5) / float64(len(s.at))
		row := s.at[block][k]
		all = append(all, row)
		if bump[block] = b.Bump(x); bump[block] {
			continue
		}
		rest = append(rest, row)
		s.put(k, block, row+b.At(x)/s.field.pitch)
		pulled += s.at[block][k] - row
	}
	if len(rest) == 0 {
		return 0, false
	}
	s.bridge(k, bump)
	return pulled/float64(len(rest)) + inMost(rest) - inMost(all), true
}

// put sets an edge's row in a block, below the edge above it and above the next one that is not bent.
func (s *strata) put(k, block int, row float64) {
	next := k + 1
	for next < len(s.bends) && bent(s.bends[next]) {
		next++
	}
	s.at[block][k] = max(s.edge(k-1, block), min(row, s.edge(next, block)))
}

// bridge lays an edge straight over bumps, between the blocks beside them.
func (s *strata) bridge(k int, bump []bool) {
	for block := range s.at {
		if !bump[block] {
			continue
		}
		left, right := block, block
		for left >= 0 && bump[left] {
			left--
		}
		for right < len(bump) && bump[right] {
			right++
		}
		switch {
		case left < 0:
			s.put(k, block, s.at[right][k])
		case right == len(bump):
			s.put(k, block, s.at[left][k])
		default:
			share := float64(block-left) / float64(right-left)
			s.put(k, block, s.at[left][k]+share*(s.at[right][k]-s.at[left][k]))
		}
	}
}
