// Package web is the local page: the whole job in a browser on the keeper's own machine.
// It lets callers in, shows the findings and pictures of other packages, and leaves the rest to
// its rooms: forms, where a keeper types, and reader, where a photo is read. Both use site,
// which holds what all pages share. What a keeper enters goes to the store; these packages
// compute nothing and open no file.
//
// guard.go decides who may use it: a caller must know the server's key, name the server by one
// of its own addresses, and, to change anything, come from one of its own pages.
package web
