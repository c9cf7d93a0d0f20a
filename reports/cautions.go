package reports

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
	neverTip      = "Never tip mulm, snails or plants into a pond, a stream or a drain to open water."
	askAVet       = "If more than one animal dies, or before any medicine, ask an aquatic veterinarian; test the water first."
)

// cautions are those that go with an action, and with animals in trouble.
func cautions(action Action, trouble bool) []string {
	switch {
	case action == Siphon:
		return []string{neverByMouth, unplug, coverCuts, aPartAtATime, stopIf, eggSmell, neverTip, askAVet}
	case action == Stir:
		return []string{unknownOxygen, unplug, coverCuts, aPartAtATime, stopIf, eggSmell, askAVet}
	case trouble:
		return []string{askAVet}
	}
	return []string{}
}
