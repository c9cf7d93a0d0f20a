package reports

// Cautions for whoever puts a hand into the tank. Sources: hobby safety pages and
// the Virginia Department of Health's page on mycobacteria (read); common practice
// where none is known; lit hours because oxygen is lowest at lights-on.
var handCautions = [...]string{
	"Never start a siphon by mouth: fill the hose, or use a bulb.",
	"Unplug heater, lights and pumps before hands go in, let the heater cool, keep a drip loop in every cord; wiring is for a licensed electrician and your local code.",
	"Cover cuts or wear waterproof gloves, and wash after. With weak immunity leave it to someone else; show a sore that does not heal to a doctor and say \"fish tank\".",
	"Work a part at a time, in the lit hours, with the means to aerate at hand; watch the animals for an hour.",
	"Stop, aerate and change part of the water if fish gasp or snails climb out.",
	"Rotten-egg smell: stop, open a window, do not lean over the tank; the nose tires and is no gauge.",
	"Never tip mulm, snails or plants into a pond, a stream or a drain to open water.",
}

// animalCautions stand with every sign of decay.
var animalCautions = [...]string{
	"If more than one animal dies, or before any medicine, ask an aquatic veterinarian; test the water first.",
}

// cautions are those that go with an action, and with animals in trouble.
func cautions(action Action, trouble bool) []string {
	list := []string{}
	if action != Leave {
		list = append(list, handCautions[:]...)
	}
	if action != Leave || trouble {
		list = append(list, animalCautions[:]...)
	}
	return list
}
