package web

import (
	"crypto/hmac"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"errors"
	"fmt"
	"html"
	"net"
	"net/http"
	"net/netip"
	"slices"
	"strings"

	"panecore/reports/web/site"
)

// keyField is the name of the key in the query of the address that the server prints.
const keyField = "key"

// formField and formHeader carry the proof that a change comes from one of our own pages.
const (
	formField  = "form"
	formHeader = "X-Panecore-Form"
)

// guard lets in only callers that may use the page.
type guard struct {
	key   string   // callers who know it may come in
	hosts []string // addresses that the server answers to, host:port

	devices   Devices // that may come in by keys of their own; nil: only this machine can reach the page
	encrypted bool

	origin http.CrossOriginProtection
}

// cookie is the cookie's name, which no other server on this machine has.
func (g *guard) cookie() string { return "panecore-" + g.mac("cookie")[:8] }

// pass is the cookie's value. It does not reveal the key: browsers send cookies to every port of
// a host, and so to other servers.
func (g *guard) pass() string { return g.mac("pass") }

// proof is what forms carry. It does not reveal the key.
func (g *guard) proof() string { return g.mac("form") }

func (g *guard) mac(of string) string { return mac(g.key, of) }

func mac(key, of string) string {
	m := hmac.New(sha256.New, []byte(key))
	m.Write([]byte(of))
	return hex.EncodeToString(m.Sum(nil))
}

// policy lets pages load their own files, and no script or style within a page (W3C Content
// Security Policy 3).
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// admit lets callers through to a handler, or refuses them.
func (g *guard) admit(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Content-Security-Policy", policy)
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Referrer-Policy", "same-origin") // "no-referrer" would have browsers send our own forms with Origin: null (Fetch, 3.2)
		head.Set("Cross-Origin-Opener-Policy", "same-origin")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		head.Set("Cache-Control", "no-store")
		if !slices.Contains(g.hosts, r.Host) { // another name for this machine: DNS rebinding
			refuse(w, r, http.StatusMisdirectedRequest, "this page answers only to the address that panecore printed", "")
			return
		}
		caller, known := g.caller(w, r)
		shown := r.URL.Query().Get(keyField)
		switch {
		case r.Method == http.MethodGet && same(shown, g.key) && g.isHere(r):
			g.welcome(w, r)
		case known && r.Method == http.MethodGet && shown != "": // an old link, or another of a device that was let in before
			withoutKey(w, r)
		case r.Method == http.MethodGet && shown != "" && g.devices != nil:
			g.pair(w, r, shown)
		case !known:
			refuse(w, r, http.StatusForbidden, g.whyNot(), g.wayIn())
		case !site.ReadOnly(r) && !g.ours(r, caller.Proof): // a page elsewhere that sends our cookie along
			refuse(w, r, http.StatusForbidden, "this change did not come from panecore's own page, so nothing was changed", "")
		default:
			next.ServeHTTP(w, caller.On(r))
		}
	})
}

// caller is who sends a request, if they were let in before: the keeper at this machine, or a
// paired device.
func (g *guard) caller(w http.ResponseWriter, r *http.Request) (c site.Caller, known bool) {
	if cookie, err := r.Cookie(g.cookie()); err == nil && same(cookie.Value, g.pass()) && g.isHere(r) {
		return site.Caller{Proof: g.proof(), Hosts: g.devices != nil}, true
	}
	if g.devices == nil {
		return c, false
	}
	cookie, err := r.Cookie(g.devices.Cookie())
	if err != nil {
		return c, false
	}
	known, anew := g.devices.Seen(cookie.Value)
	if anew {
		g.give(w, cookie.Value)
	}
	return site.Caller{Proof: mac(cookie.Value, "form")}, known
}

// isHere reports whether a request comes from this machine, to which the server's own key is
// bound where other devices can reach it too: who hears that key on the network has no use of it.
func (g *guard) isHere(r *http.Request) bool {
	if g.devices == nil {
		return true
	}
	remote, err := netip.ParseAddrPort(r.RemoteAddr)
	local, ok := r.Context().Value(http.LocalAddrContextKey).(*net.TCPAddr)
	if err != nil || !ok {
		return false
	}
	from := remote.Addr().Unmap()
	return from.IsLoopback() || from == local.AddrPort().Addr().Unmap()
}

// pair lets a device in by a link.
func (g *guard) pair(w http.ResponseWriter, r *http.Request, link string) {
	key, err := g.devices.Pair(link, r.UserAgent())
	switch {
	case errors.Is(err, site.ErrInput):
		refuse(w, r, http.StatusForbidden, err.Error(), g.wayIn())
	case err != nil:
		refuse(w, r, http.StatusInternalServerError, err.Error(), "")
	default:
		g.give(w, key)
		site.Tell(w, r, "This device is paired. It can read and change the logbook until it is shut out where panecore runs.")
		withoutKey(w, r)
	}
}

// deviceDays is how long a device keeps its key after the last day it was used, days: the most
// that browsers allow (RFC 6265bis, 5.6.3).
const deviceDays = 400

// give gives a device its key to keep.
func (g *guard) give(w http.ResponseWriter, key string) {
	http.SetCookie(w, &http.Cookie{
		Name: g.devices.Cookie(), Value: key, Path: "/", MaxAge: deviceDays * 24 * 60 * 60,
		HttpOnly: true, Secure: g.encrypted, SameSite: http.SameSiteStrictMode,
	})
}

// refusal says why a caller is not let in, and what helps. It has no script, style or address,
// since anybody may see it.
const refusal = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Access denied · panecore</title>
</head>
<body>
<main>
<h1>Access denied</h1>
<p>panecore says: %s.</p>
%s</main>
</body>
</html>
`

// wayIn says where the address with its key is shown.
const wayIn = `<p>The address is shown in the terminal where <code>panecore serve</code> runs. Its key is new each time, so an old address no longer works.</p>
<p>If you can't find it, or the program has ended, stop it with Ctrl-C, start <code>panecore serve</code> again, and open the address that it prints.</p>
`

// wayInByLink says how another device comes in.
const wayInByLink = `<p>Another device comes in by a link that is good for one device and a few minutes. Where panecore runs, the page shows it under “Open on your phone”, and <code>panecore device add</code> prints it.</p>
<p>If this device was paired before, it was shut out since, or its browser has forgotten its cookies.</p>
`

// whyNot says why a stranger is not let in.
func (g *guard) whyNot() string {
	if g.devices == nil {
		return "open the page with the full address that panecore printed, including its key"
	}
	return "this device is not paired, or was shut out"
}

// wayIn says how who is not let in may come in.
func (g *guard) wayIn() string {
	if g.devices == nil {
		return wayIn
	}
	return wayInByLink + wayIn
}

// refuse answers a script with JSON, anyone else with a page.
func refuse(w http.ResponseWriter, r *http.Request, status int, why, helps string) {
	if site.WantsJSON(r) {
		site.WriteJSON(w, status, map[string]string{"error": why})
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	fmt.Fprintf(w, refusal, html.EscapeString(why), helps)
}

// welcome trades the key for a cookie and takes it out of the address.
func (g *guard) welcome(w http.ResponseWriter, r *http.Request) {
	http.SetCookie(w, &http.Cookie{Name: g.cookie(), Value: g.pass(), Path: "/", HttpOnly: true, Secure: g.encrypted, SameSite: http.SameSiteStrictMode})
	withoutKey(w, r)
}

// withoutKey sends the browser on to the same page by an address that shows no key.
func withoutKey(w http.ResponseWriter, r *http.Request) {
	query := r.URL.Query()
	query.Del(keyField)
	to := "/" + strings.TrimLeft(r.URL.EscapedPath(), "/\\") // never to another host
	if len(query) > 0 {
		to += "?" + query.Encode()
	}
	http.Redirect(w, r, to, http.StatusSeeOther)
}

// same compares secrets in a time that does not depend on them.
func same(given, secret string) bool {
	return subtle.ConstantTimeCompare([]byte(given), []byte(secret)) == 1
}

// ours reports whether a change comes from one of our pages. The standard library checks what
// browsers say about a request's origin. It accepts requests that say nothing, as programs do,
// and any name for the host: hence the proof, the list of hosts and the cookie.
func (g *guard) ours(r *http.Request, callersProof string) bool {
	if g.origin.Check(r) != nil {
		return false
	}
	proof := r.Header.Get(formHeader)
	if proof == "" && strings.HasPrefix(r.Header.Get("Content-Type"), "application/x-www-form-urlencoded") {
		proof = r.PostFormValue(formField)
	}
	return same(proof, callersProof)
}
