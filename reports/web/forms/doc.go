// Package forms is where a keeper types: tanks, cores, water tests and events, the answers to
// questions about a core, and what is to be rehearsed. A form that can't be saved comes back
// with everything that was typed and with complaints, which say what is wrong and where.
package forms
