package site

import (
	"encoding/json"
	"net"
	"net/http"
	"net/url"
	"strings"
)

// saidCookie is the name of the cookie that carries a message over one redirect. All ports of a
// host share their cookies, so each server has its own.
func saidCookie(r *http.Request) string {
	_, port, _ := net.SplitHostPort(r.Host) // without a port: the only server there
	return "panecore-said-" + port
}

// AtTop leads to a page's top, where the message and undo are. Without it a browser goes to the
// part of the page that the form's address named (Fetch Standard, "location URL"; HTML
// Standard, "find a potential indicated element").
const AtTop = "#top"

// Say sends the browser on to a page that shows what was done.
func Say(w http.ResponseWriter, r *http.Request, to, what string) {
	Tell(w, r, what)
	http.Redirect(w, r, to, http.StatusSeeOther)
}

// Tell has the next page show what was done.
func Tell(w http.ResponseWriter, r *http.Request, what string) {
	http.SetCookie(w, &http.Cookie{Name: saidCookie(r), Value: url.QueryEscape(what), Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: 60})
}

// said is the message for this page, which is shown once.
func said(w http.ResponseWriter, r *http.Request) string {
	cookie, err := r.Cookie(saidCookie(r))
	if err != nil {
		return ""
	}
	http.SetCookie(w, &http.Cookie{Name: saidCookie(r), Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: -1})
	what, err := url.QueryUnescape(cookie.Value)
	if err != nil {
		return ""
	}
	return what
}

// ReadOnly reports whether a request changes nothing.
func ReadOnly(r *http.Request) bool { return r.Method == http.MethodGet || r.Method == http.MethodHead }

// WantsJSON reports whether a script sent the request.
func WantsJSON(r *http.Request) bool {
	return strings.HasPrefix(r.Header.Get("Accept"), "application/json")
}

// WriteJSON answers a script. Only the connection can fail.
func WriteJSON(w http.ResponseWriter, status int, value any) {
	text, err := json.Marshal(value)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(text)
}
