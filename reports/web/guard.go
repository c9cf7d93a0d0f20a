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

// keyField is the query's name of the key in the address that the server prints.
const keyField = "key"

// formField and formHeader carry the proof that a change comes from one of our own pages.
const (
	formField  = "form"
	formHeader = "X-Panecore-Form"
)

// guard lets in only who may use the page.
type guard struct {
	key    string   // who knows it may come in
	hosts  []string // addresses that the server answers to, host:port
	origin http.CrossOriginProtection
}

// cookie is the name of the cookie: another server on this machine has another.
func (g *guard) cookie() string { return "panecore-" + g.mac("cookie")[:8] }

// pass is the cookie's value. It tells nothing of the key: browsers send cookies to every port
// of a host, and so to other servers.
func (g *guard) pass() string { return g.mac("pass") }

// proof is what forms carry. It tells nothing of the key.
func (g *guard) proof() string { return g.mac("form") }

func (g *guard) mac(of string) string {
	m := hmac.New(sha256.New, []byte(g.key))
	m.Write([]byte(of))
	return hex.EncodeToString(m.Sum(nil))
}

// policy is what the pages may load: their own files, no script or style within a page
// (W3C Content Security Policy 3).
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// admit wraps a handler.
func (g *guard) admit(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		head := w.Header()
		head.Set("Content-Security-Policy", policy)
		head.Set("X-Content-Type-Options", "nosniff")
		head.Set("Referrer-Policy", "same-origin") // with "no-referrer" browsers send our own forms with Origin: null (Fetch, 3.2)
		head.Set("Cross-Origin-Opener-Policy", "same-origin")
		head.Set("Cross-Origin-Resource-Policy", "same-origin")
		head.Set("Cache-Control", "no-store")
		switch {
		case !slices.Contains(g.hosts, r.Host): // another name for this machine: DNS rebinding
			refuse(w, r, http.StatusMisdirectedRequest, "this page answers only to the address that panecore printed", "")
		case same(r.URL.Query().Get(keyField), g.key) && r.Method == http.MethodGet:
			g.welcome(w, r)
		case !g.known(r):
			refuse(w, r, http.StatusForbidden, "open the page by the whole address that panecore printed, key and all", wayIn)
		case !site.ReadOnly(r) && !g.ours(r): // a page elsewhere that sends our cookie along
			refuse(w, r, http.StatusForbidden, "this change did not come from panecore's own page: nothing was changed", "")
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// refusal is a page that has no script, no style and no address, since whoever sees it may be
// anybody: why a caller is not let in, and what helps.
const refusal = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Not let in · panecore</title>
</head>
<body>
<main>
<h1>Not let in</h1>
<p>panecore says: %s.</p>
%s</main>
</body>
</html>
`

// wayIn is how a keeper comes by an address with its key.
const wayIn = `<p>The address stands in the terminal where <code>panecore serve</code> runs. Its key is new each time, so that a former address opens nothing.</p>
<p>If you can't find it, or the program has ended: stop it with Ctrl-C, start <code>panecore serve</code> anew, and open the address that it prints then.</p>
`

// refuse tells why a caller is not let in: as JSON to a script, else on a page.
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

// same compares secrets in a time that tells nothing of them.
func same(given, secret string) bool {
	return subtle.ConstantTimeCompare([]byte(given), []byte(secret)) == 1
}

func (g *guard) known(r *http.Request) bool {
	cookie, err := r.Cookie(g.cookie())
	return err == nil && same(cookie.Value, g.pass())
}

// ours reports whether a change comes from one of our pages. The standard library goes by what
// browsers say of a request's origin. It lets pass who says nothing, as programs do, and what a
// browser sends of its user's own accord, and trusts whatever name the host was asked by: hence
// the proof, the list of hosts and the cookie besides.
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
