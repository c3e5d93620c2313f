package web

import (
	"embed"
	"net/http"
	"path"
)

// The page is web/assets; what must be there without it is web/builtin.
//
//go:embed assets builtin
var files embed.FS

// kinds of file that the page is made of.
var kinds = map[string]string{
	".html":  "text/html; charset=utf-8",
	".js":    "text/javascript; charset=utf-8",
	".css":   "text/css; charset=utf-8",
	".svg":   "image/svg+xml",
	".txt":   "text/plain; charset=utf-8",
	".woff2": "font/woff2",
}

func (b *Bench) page(w http.ResponseWriter, r *http.Request) {
	if data, err := files.ReadFile("assets/index.html"); err == nil {
		sendBytes(w, http.StatusOK, kinds[".html"], data)
		return
	}
	builtin(w, "index.html")
}

// asset sends a file of the page.
func asset(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	kind := kinds[path.Ext(name)]
	for _, dir := range []string{"assets/", "builtin/"} {
		if data, err := files.ReadFile(dir + name); err == nil && kind != "" && path.Base(name) == name {
			sendBytes(w, http.StatusOK, kind, data)
			return
		}
	}
	fail(w, missing{"the page has no such file", "go back to the start of the bench"})
}

// builtin sends a file that is always there.
func builtin(w http.ResponseWriter, name string) {
	data, err := files.ReadFile("builtin/" + name)
	if err != nil {
		panic("web: " + err.Error()) // it is embedded
	}
	sendBytes(w, http.StatusOK, kinds[path.Ext(name)], data)
}
