package rules

import (
	"panecore/layers"
	"panecore/reports"
)

// Cautions for whoever puts a hand into the tank. Sources: hobby safety pages and the
// Virginia Department of Health's page on mycobacteria (read); Burton et al. 2009 for
// the half-hour in which stirred iron sulphide takes up oxygen (abstract read); common
// practice where none is known.
const (
	neverByMouth  = "Never start a siphon by mouth: fill the hose, or use a bulb."
	unknownOxygen = "Never stir a black zone with animals in the tank unless the water's oxygen is known: what is stirred up takes oxygen for half an hour and more."
	unplug        = "Unplug heater, lights and pumps before hands go in, let the heater cool, keep a drip loop in every cord; wiring is for a licensed electrician and your local code."
	coverCuts     = "Cover cuts or wear waterproof gloves, and wash after. With weak immunity leave it to someone else; show a sore that does not heal to a doctor and say \"fish tank\"."
	aPartAtATime  = "Work a part at a time, in the lit hours, with the means to aerate at hand; watch the animals for an hour."
	stopIf        = "Stop, aerate and change part of the water if fish gasp or snails climb out."
	eggSmell      = "Rotten-egg smell: stop, open a window, do not lean over the tank; the nose tires and is no gauge."
	gas           = "Gas in the bed: do not poke at it with your face over the tank; where a bubble smells of eggs, stop and open a window."
	neverTip      = "Never tip mulm, snails or plants into a pond, a stream or a drain to open water."
	askAVet       = "If more than one animal dies, or before any medicine, ask an aquatic veterinarian; test the water first."
)

// Cautions are those that go with an action, and with what was seen of late.
func (c *Case) Cautions(action reports.Action) []string {
	var list []string
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
	if list == nil {
		return []string{}
	}
	return list
}
