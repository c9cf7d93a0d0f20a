package site

import (
	"encoding/json"
	"net"
	"net/http"
	"net/url"
	"strings"
)

// saidCookie is the name of the cookie that carries over one redirect what was just done, which is
// shown as text. Cookies are shared by all ports of a host, so each server has its own.
func saidCookie(r *http.Request) string {
	_, port, _ := net.SplitHostPort(r.Host) // without a port: the only server there
	return "panecore-said-" + port
}

// AtTop leads to a page's top, where what was done stands, and its undo. Without it a browser
// goes to the part of the page that the form's address named (Fetch Standard, "location URL";
// HTML Standard, "find a potential indicated element").
const AtTop = "#top"

// Say sends the browser on to a page that tells what was done.
func Say(w http.ResponseWriter, r *http.Request, to, what string) {
	Tell(w, r, what)
	http.Redirect(w, r, to, http.StatusSeeOther)
}

// Tell leaves what was done to the next page to say.
func Tell(w http.ResponseWriter, r *http.Request, what string) {
	http.SetCookie(w, &http.Cookie{Name: saidCookie(r), Value: url.QueryEscape(what), Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: 60})
}

// said is what was just done, once.
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

// WantsJSON reports whether a request is a script's.
func WantsJSON(r *http.Request) bool {
	return strings.HasPrefix(r.Header.Get("Accept"), "application/json")
}

// WriteJSON answers a script. Its failures are those of the connection.
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
