package rules

// Measures that help before anything touches the bed.
const (
	takeOutDead = "Take out dead animals and melting leaves."
	Aerate      = "Aerate: an air stone or a rippled surface, day and night."
	TestWater   = "Test oxygen at dawn, ammonia, nitrite, pH and temperature."
	feedLess    = "Halve the feeding for two weeks, then read again."
	ChangeWater = "Change part of the water for matched, chlorine-free water."
	readAgain   = "Read the bed again before anything else."
)

// Measures for the water (common practice, no source).
const (
	moveAnimals = "If the animals do not settle within the hour, move them to clean, matched, aerated water."
	takeOut     = "Take out what died or rots: animals, melting leaves."
	handsOff    = "Keep hands, hose and stick out of the bed until the water has come right."
	feedNothing = "Feed nothing until then."
	testNow     = "Test oxygen, ammonia, nitrite, pH and temperature now, and oxygen again before the lights come on."
)
