// Package site is what the rooms of the local page have in common: what they need of the
// store, how a page or a part of one is written and an error told, what the next page says was
// done, the addresses and fingerprints of records, and what is asked of a core before it is
// kept. It knows no room.
package site
