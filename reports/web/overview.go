package web

import "net/http"

// routes are the page's addresses and what answers them.
func (s *server) routes() map[string]handler {
	return map[string]handler{
		"GET /{$}": s.overview,
	}
}

func (s *server) overview(w http.ResponseWriter, r *http.Request) error {
	return s.show(w, r, http.StatusOK, "failure", frame{Title: "Tanks"}, "not built")
}
