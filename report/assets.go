package report

import (
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"strings"
	"sync"
)

// The typeface is Atkinson Hyperlegible, Copyright 2020 Braille Institute of
// America, under the SIL Open Font License 1.1; its text is assets/OFL.txt.
//
//go:embed assets
var assets embed.FS

// asset is a file that is part of the program.
func asset(name string) []byte {
	b, err := assets.ReadFile("assets/" + name)
	if err != nil {
		panic("report: " + err.Error()) // it is embedded
	}
	return b
}

// faces are the typeface's files and the characters each holds.
var faces = [...]struct {
	file   string
	weight int
	chars  string
}{
	{"atkinson-regular.woff2", 400, latin},
	{"atkinson-bold.woff2", 700, latin},
	{"atkinson-regular-ext.woff2", 400, latinExtended},
	{"atkinson-bold-ext.woff2", 700, latinExtended},
}

const (
	latin         = "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+2000-206F,U+20AC,U+2122,U+2212"
	latinExtended = "U+0100-02AF,U+1E00-1E9F,U+1EF2-1EFF,U+20A0-20AB,U+20AD-20C0"
)

// style is a style sheet with the typeface in it, so that a page needs no other
// file.
func style(sheets ...string) template.CSS {
	var b strings.Builder
	for _, f := range faces {
		fmt.Fprintf(&b, "@font-face{font-family:Atkinson;font-weight:%d;src:url(data:font/woff2;base64,%s) format('woff2');unicode-range:%s}\n",
			f.weight, base64.StdEncoding.EncodeToString(asset(f.file)), f.chars)
	}
	for _, s := range sheets {
		b.Write(asset(s))
	}
	return template.CSS(b.String())
}

// templates are the pages, parsed once.
var templates = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("").ParseFS(assets, "assets/*.html"))
})

// render writes a page.
func render(name string, data any) ([]byte, error) {
	var b strings.Builder
	if err := templates().ExecuteTemplate(&b, name, data); err != nil {
		return nil, fmt.Errorf("report: %s: %w", name, err)
	}
	return []byte(b.String()), nil
}
