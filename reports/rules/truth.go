package rules

import (
	"panecore/layers"
	"panecore/reports/infer"
)

// alive reports a bed that feeds on its mulm: worked by roots or animals, under moved water, with a
// front that holds and nothing rotting.
func alive(t *infer.Truth) bool {
	steady := !t.Reached || t.ShiftKnown && t.Shift > -t.DrawnLimit(layers.LimitFrontRise)
	return t.Working() && !t.Still && steady && !t.Decay() && !t.Seen(layers.EggSmell)
}

// meltInStillWater reports that plants melt in still water over mulm that feeds the rot. With
// animals in trouble, threads of fungus or a smell of eggs, the water comes before the mulm.
func meltInStillWater(t *infer.Truth) bool {
	return t.Seen(layers.PlantMelt) && !t.Seen(layers.DeadAnimal, layers.Gasping, layers.WhiteThreads, layers.EggSmell) &&
		t.Still && t.Mulm >= t.DrawnLimit(layers.LimitDecayMulm)
}

// covered reports that mulm lies on the bed. Less than a millimetre can't be read (assumption).
func covered(t *infer.Truth) bool { return t.Mulm >= 1 }

// oxygenMargin is how far above its limit oxygen at dawn should be before the bed is stirred, mg/L
// (common practice, no source).
const oxygenMargin = 2

// ammoniaPerhapsOver reports ammonia whose un-ionised part may be over its limit: at the highest pH
// of the week or, if pH or temperature is not known, where total ammonia is at least half its own
// limit.
func ammoniaPerhapsOver(t *infer.Truth) bool {
	a := t.Tests.Ammonia
	if a == nil || a.AtLeast() > t.Limit(layers.LimitAmmonia) || a.AtMost() <= t.Limit(layers.LimitAmmonia) {
		return false
	}
	return a.Known() || a.Total >= t.Limit(layers.LimitTotalAmmonia)/2
}

// thinOnBareSand reports sand that nothing roots in, with little black in it yet.
func thinOnBareSand(t *infer.Truth) bool {
	return t.BareSand && t.Black < t.DrawnLimit(layers.LimitThinBlack)
}

// nearSurface reports that the reduced zone reaches almost to the bed surface.
func nearSurface(t *infer.Truth) bool { return t.ReducedTop <= t.DrawnLimit(layers.LimitShallowFront) }
