package web

import (
	"fmt"
	"net/http"
	"runtime"
	"slices"
	"strings"

	"unspool/folder"
)

// Bounds of a request.
const (
	maxBody   = 64 << 10
	maxTarget = 4 << 10 // of path and query
)

// policy is what the page may load: its own files and pictures it has drawn, and
// nothing from anywhere else (Content Security Policy Level 3).
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; " +
	"connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// headers of every answer.
var headers = [...][2]string{
	{"Content-Security-Policy", policy},
	{"X-Content-Type-Options", "nosniff"},
	{"X-Frame-Options", "DENY"},
	{"Referrer-Policy", "no-referrer"},
	{"Cache-Control", "no-store"},
	{"Cross-Origin-Opener-Policy", "same-origin"},
	{"Cross-Origin-Embedder-Policy", "require-corp"},
	{"Cross-Origin-Resource-Policy", "same-origin"},
}

// guard stands before every address: it turns away what does not come from the
// bench's own page, and keeps a fault in one answer from ending the others.
func (b *Bench) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer b.caught(w, r)
		for _, h := range headers {
			w.Header().Set(h[0], h[1])
		}
		if status, what := b.strange(r); status != 0 {
			sendError(w, status, what, "open the bench at the address that unspool printed")
			return
		}
		if b.door != nil && !b.door.open(r) && !forStrangers(r) {
			if r.URL.Path == "/" {
				builtin(w, "sign-in.html")
				return
			}
			sendError(w, http.StatusUnauthorized, "the bench is locked", "sign in with the passphrase")
			return
		}
		if r.Body != nil {
			r.Body = http.MaxBytesReader(w, r.Body, largest(r))
		}
		next.ServeHTTP(w, r)
	})
}

// strange says why a request is turned away; status 0 where it is not.
func (b *Bench) strange(r *http.Request) (status int, what string) {
	switch {
	case !slices.Contains(b.options.Hosts, r.Host):
		return http.StatusMisdirectedRequest, "the bench does not answer to this name"
	case len(r.URL.Path)+len(r.URL.RawQuery) > maxTarget:
		return http.StatusRequestURITooLong, "the address is too long"
	case r.Method == http.MethodGet || r.Method == http.MethodHead:
		// A link may lead to the page; what the page loads only the page may ask for.
		if r.URL.Path != "/" && !sameSite(r, true) {
			return http.StatusForbidden, "another site asked for this"
		}
		return 0, ""
	case r.Method != http.MethodPost:
		return http.StatusMethodNotAllowed, "the bench knows no such method"
	case r.Header.Get("X-Unspool") != "1" || !b.sameOrigin(r) || !sameSite(r, false):
		return http.StatusForbidden, "another site asked for this"
	case isFile(r) && !isOf(r, "application/octet-stream"):
		return http.StatusUnsupportedMediaType, "the request is no file"
	case !isFile(r) && !isOf(r, "application/json"):
		return http.StatusUnsupportedMediaType, "the request is not JSON"
	case !isFile(r) && r.ContentLength > maxBody: // a file's handler says how large one may be
		return http.StatusRequestEntityTooLarge, "the request is too large"
	}
	return 0, ""
}

// sameSite says whether the browser calls a request the page's own (Fetch
// Metadata Request Headers, W3C). A request that a person typed has no site.
func sameSite(r *http.Request, typed bool) bool {
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin":
		return true
	case "none":
		return typed
	}
	return false
}

// sameOrigin says whether a request that writes comes from the page itself.
// Every browser states the origin of such a request.
func (b *Bench) sameOrigin(r *http.Request) bool {
	scheme := "http://"
	if b.options.Secure {
		scheme = "https://"
	}
	origins := r.Header.Values("Origin")
	return len(origins) == 1 && origins[0] == scheme+r.Host
}

// isFile says whether a request brings a file, the one kind that is no JSON.
func isFile(r *http.Request) bool { return r.URL.Path == "/api/begin/file" }

// largest is how many bytes a request may bring. How many a file of its name may
// have is for its handler to say.
func largest(r *http.Request) int64 {
	if isFile(r) {
		return max(folder.MaxRosterFile, folder.MaxPhotoFile) + 1 // one more than is taken, so that its handler sees it
	}
	return maxBody
}

func isOf(r *http.Request, kind string) bool {
	said, _, _ := strings.Cut(r.Header.Get("Content-Type"), ";")
	return strings.EqualFold(strings.TrimSpace(said), kind)
}

// caught turns a fault in a handler into an answer that says no more than that
// there was one. Where it happened is told to who runs the server; the values in
// hand are not, for they may be of people.
func (b *Bench) caught(w http.ResponseWriter, r *http.Request) {
	p := recover()
	if p == nil {
		return
	}
	if p == http.ErrAbortHandler {
		panic(p)
	}
	if b.options.Fault != nil {
		b.options.Fault(fmt.Sprintf("a fault in Unspool while it answered %s:%s", r.Pattern, places()))
	}
	sendError(w, http.StatusInternalServerError, "Unspool failed at this; the fault is its own", "load the page again; if it stays, say what was asked for")
}

// places lists the functions on the stack of a fault.
func places() string {
	var pcs [32]uintptr
	frames := runtime.CallersFrames(pcs[:runtime.Callers(4, pcs[:])])
	var s strings.Builder
	for {
		f, more := frames.Next()
		fmt.Fprintf(&s, "\n  %s:%d", f.Function, f.Line)
		if !more {
			return s.String()
		}
	}
}
