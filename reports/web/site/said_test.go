package site

import (
	"net/http/httptest"
	"testing"
)

// What was done is told once, and by no other server of the host.
func TestSaid_ofItsOwn(t *testing.T) {
	for _, host := range []string{"127.0.0.1:4001", "[::1]:4001", "vat.example"} {
		here, there := httptest.NewRequest("GET", "/", nil), httptest.NewRequest("GET", "/", nil)
		here.Host, there.Host = host, "127.0.0.1:4002"
		w := httptest.NewRecorder()
		Tell(w, here, "“Kettle” is kept; 5 % of it")
		for _, cookie := range w.Result().Cookies() {
			here.AddCookie(cookie)
			there.AddCookie(cookie)
		}
		w = httptest.NewRecorder()
		if got := said(w, there); got != "" {
			t.Errorf("%s: another server tells %q", host, got)
		}
		if got := said(w, here); got != "“Kettle” is kept; 5 % of it" {
			t.Errorf("%s: told %q", host, got)
		}
		if gone := w.Result().Cookies(); len(gone) != 1 || gone[0].MaxAge >= 0 {
			t.Errorf("%s: the cookie stays: %v", host, gone)
		}
	}
}
