// Package web is the local page: the whole job in a browser on the keeper's own machine.
// It lets callers in, shows the findings and pictures of the other packages, and hands all
// else to its rooms: forms, where a keeper types, and photos, where a photo is read. They
// stand on site, which the pages have in common. All of them hand what a keeper enters to the
// store; they compute nothing and open no file.
//
// Who may use it is guarded in guard.go: a caller must know the server's key, name the
// server by one of its own addresses, and, to change anything, come from its own pages.
package web
