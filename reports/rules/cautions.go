package rules

import (
	"panecore/layers"
	"panecore/reports"
)

// Cautions for whoever puts their hands into the tank. Sources: hobby safety pages and the
// Virginia Department of Health's page on mycobacteria (read); Burton et al. 2009 for
// the half-hour in which stirred iron sulphide uses oxygen (abstract read); otherwise
// common practice.
const (
	neverByMouth  = "Never start a siphon by mouth: fill the hose, or use a bulb."
	unknownOxygen = "Never stir a black zone with animals in the tank unless the water's oxygen is known: what is stirred up uses oxygen for half an hour or more."
	unplug        = "Unplug heater, lights and pumps before your hands go in, let the heater cool, and keep a drip loop in every cord. Leave wiring to a licensed electrician, and follow your local code."
	coverCuts     = "Cover cuts or wear waterproof gloves, and wash your hands afterwards. If your immune system is weak, leave it to someone else. Show a sore that does not heal to a doctor and say \"fish tank\"."
	aPartAtATime  = "Work on one part at a time, while the lights are on, with something to aerate the water at hand. Watch the animals for an hour afterwards."
	stopIf        = "Stop, aerate and change part of the water if fish gasp or snails climb out."
	eggSmell      = "If it smells of rotten eggs: stop, open a window and do not lean over the tank. The nose soon stops noticing, so it is not a gauge."
	gas           = "Gas in the bed: do not poke at it with your face over the tank. If a bubble smells of eggs, stop and open a window."
	neverTip      = "Never tip mulm, snails or plants into a pond, a stream or a drain that leads to open water."
	askAVet       = "If more than one animal dies, or before you use any medicine, ask an aquatic veterinarian. Test the water first."
)

// Cautions are those that belong to an action and to what was seen lately.
func (c *Case) Cautions(action reports.Action) []string {
	list := []string{}
	if c.Seen(layers.EggSmell) {
		list = append(list, eggSmell)
	}
	if c.Seen(layers.GasBubbles) {
		list = append(list, gas)
	}
	switch action {
	case reports.Siphon:
		list = append(list, neverByMouth, unplug, coverCuts, aPartAtATime, neverTip)
	case reports.Stir:
		list = append(list, unknownOxygen, unplug, coverCuts, aPartAtATime)
	default:
		if len(c.alarms()) > 0 { // hands change water and move animals
			list = append(list, unplug, coverCuts)
		}
	}
	if action != reports.Leave {
		if !c.Seen(layers.Gasping) {
			list = append(list, stopIf)
		}
		if !c.Seen(layers.EggSmell) {
			list = append(list, eggSmell)
		}
	}
	if action != reports.Leave || c.Decay() || len(c.alarms()) > 0 {
		list = append(list, askAVet)
	}
	return list
}
