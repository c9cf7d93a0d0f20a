// Package figure draws findings as pictures: a core to scale, cores and all tanks beside each
// other, oxygen from the water's surface into the bed, a rehearsal beside its limits. A tank's
// record along time has a room of its own, timeline. Both compute nothing of what they show;
// the same findings give the same bytes.
package figure
