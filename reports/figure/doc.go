// Package figure draws findings as pictures: a core to scale, cores or all tanks side by side,
// oxygen from the water's surface into the bed, a rehearsal against its limits. It computes
// nothing that it shows, and the same findings give the same bytes. Package timeline draws a
// tank's record over time.
package figure
