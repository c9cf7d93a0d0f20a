package web

import (
	"crypto/hmac"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"fmt"
	"html"
	"net/http"
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
	key    string   // callers who know it may come in
	hosts  []string // addresses that the server answers to, host:port
	origin http.CrossOriginProtection
}

// cookie is the cookie's name, which no other server on this machine has.
func (g *guard) cookie() string { return "panecore-" + g.mac("cookie")[:8] }

// pass is the cookie's value. It does not reveal the key: browsers send cookies to every port of
// a host, and so to other servers.
func (g *guard) pass() string { return g.mac("pass") }

// proof is what forms carry. It does not reveal the key.
func (g *guard) proof() string { return g.mac("form") }

func (g *guard) mac(of string) string {
	m := hmac.New(sha256.New, []byte(g.key))
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
		switch {
		case !slices.Contains(g.hosts, r.Host): // another name for this machine: DNS rebinding
			refuse(w, r, http.StatusMisdirectedRequest, "this page answers only to the address that panecore printed", "")
		case same(r.URL.Query().Get(keyField), g.key) && r.Method == http.MethodGet:
			g.welcome(w, r)
		case !g.known(r):
			refuse(w, r, http.StatusForbidden, "open the page with the full address that panecore printed, including its key", wayIn)
		case !site.ReadOnly(r) && !g.ours(r): // a page elsewhere that sends our cookie along
			refuse(w, r, http.StatusForbidden, "this change did not come from panecore's own page, so nothing was changed", "")
		default:
			next.ServeHTTP(w, r)
		}
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
	http.SetCookie(w, &http.Cookie{Name: g.cookie(), Value: g.pass(), Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
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

func (g *guard) known(r *http.Request) bool {
	cookie, err := r.Cookie(g.cookie())
	return err == nil && same(cookie.Value, g.pass())
}

// ours reports whether a change comes from one of our pages. The standard library checks what
// browsers say about a request's origin. It accepts requests that say nothing, as programs do,
// and any name for the host: hence the proof, the list of hosts and the cookie.
func (g *guard) ours(r *http.Request) bool {
	if g.origin.Check(r) != nil {
		return false
	}
	proof := r.Header.Get(formHeader)
	if proof == "" && strings.HasPrefix(r.Header.Get("Content-Type"), "application/x-www-form-urlencoded") {
		proof = r.PostFormValue(formField)
	}
	return same(proof, g.proof())
}
