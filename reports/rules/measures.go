package rules

// Measures that help before anything touches the bed (common practice, no source).
const (
	Aerate      = "Aerate day and night, with an air stone or a rippled surface."
	TestWater   = "Test ammonia, nitrite, pH and temperature, and oxygen at dawn."
	feedLess    = "Halve the feeding for two weeks, then read again."
	ChangeWater = "Change part of the water; use matched, chlorine-free water."
	readAgain   = "Read the bed again before anything else."

	moveAnimals = "If the animals do not settle within an hour, move them to clean, matched, aerated water."
	takeOut     = "Take out anything dead or rotting: animals, melting leaves."
	handsOff    = "Keep hands, hose and stick out of the bed until the water is right again."
	feedNothing = "Feed nothing until then."
	testNow     = "Test oxygen, ammonia, nitrite, pH and temperature now, and oxygen again before the lights come on."
)
