package web

import (
	"bytes"
	"io"
	"net/http"
	"os/exec"
	"strings"
	"testing"
)

// taken asks for a paper and fails where it does not come as a file to save.
func taken(t *testing.T, b *Bench, target, name, kind string) []byte {
	t.Helper()
	w := ask(b, request(http.MethodGet, target, ""))
	data, err := io.ReadAll(w.Body)
	if err != nil || w.StatusCode != http.StatusOK {
		t.Fatalf("%s: %v, %d %.200s", target, err, w.StatusCode, data)
	}
	for header, want := range map[string]string{
		"Content-Disposition": `attachment; filename="` + name + `"`, "Content-Type": kind, "Cache-Control": "no-store", "X-Content-Type-Options": "nosniff",
		"Content-Security-Policy": "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
	} {
		if got := w.Header.Get(header); got != want {
			t.Errorf("%s: %s is %q, want %q", target, header, got, want)
		}
	}
	return data
}

// tool runs a Poppler tool on a PDF: another reader than the writer's own.
func tool(t *testing.T, pdf []byte, name string, args ...string) string {
	t.Helper()
	c := exec.Command(name, args...)
	c.Stdin = bytes.NewReader(pdf)
	var faults strings.Builder
	c.Stderr = &faults
	out, err := c.Output()
	if err != nil || faults.Len() > 0 {
		t.Fatalf("%s: %v %s", name, err, faults.String())
	}
	return string(out)
}

// values are the names and keys of the roster, and the words
// of the names that are long enough to be nothing else.
func values(b *Bench) (all []string) {
	l := b.now.Load().people
	for i := range l.rows {
		all = append(all, l.rows[i].Key, l.labels[i])
		for word := range strings.FieldsSeq(l.labels[i]) {
			if len(word) > 4 {
				all = append(all, word)
			}
		}
	}
	return all
}

// noneOf fails where a text holds a value of the roster.
func noneOf(t *testing.T, what, text string, values []string) {
	t.Helper()
	for _, v := range values {
		if strings.Contains(text, v) {
			t.Errorf("%s holds %q of the roster", what, v)
		}
	}
}

// What is handed on shows an invented person, whatever card is on the bench; a
// real card comes only when it is asked for in so many words.
func TestPapersShowAnInventedPersonUnlessAskedOtherwise(t *testing.T) {
	b := bench(t)
	secret := values(b)
	for _, c := range []struct {
		name, pages            string
		invented, real, always string // words of the papers themselves
	}{
		{"ribbon", "", "an invented person", "a real person", "People and scanners can read this."},
		{"explanation", "Pages:           1\n", "The person is invented", "It shows a real person", "See for yourself"},
	} {
		at := "/api/paper/" + c.name + ".pdf"
		plain := taken(t, b, at, c.name+".pdf", "application/pdf")
		if !bytes.HasPrefix(plain, []byte("%PDF-")) || !strings.Contains(tool(t, plain, "pdfinfo", "-"), c.pages) {
			t.Errorf("%s is no such PDF", c.name)
		}
		text := tool(t, plain, "pdftotext", "-layout", "-", "-")
		if !strings.Contains(text, c.invented) || strings.Contains(text, c.real) || !strings.Contains(text, c.always) {
			t.Errorf("%s says\n%s", c.name, text)
		}
		noneOf(t, c.name, text, secret)
		if rowAlone := taken(t, b, at+"?row=3", c.name+".pdf", "application/pdf"); !bytes.Equal(rowAlone, plain) {
			t.Errorf("%s shows another card for a row alone", c.name)
		}
		real := taken(t, b, at+"?real=1&row=3", c.name+"-card-4.pdf", "application/pdf")
		text = tool(t, real, "pdftotext", "-layout", "-", "-")
		if !strings.Contains(text, c.real) || strings.Contains(text, c.invented) || bytes.Equal(real, plain) {
			t.Errorf("%s of a real card says\n%s", c.name, text)
		}
		noneOf(t, c.name+" of a real card", text, secret) // it is in the pictures alone
	}
}

func TestPapersRefuse(t *testing.T) {
	b := bench(t)
	for target, want := range map[string]string{
		"/api/paper/report.html":                      `409 {"error":"there is no report yet","hint":"prove the whole run first"}`,
		"/api/paper/ribbon.pdf?real=yes":              `400 {"error":"real is 1 or left out","hint":"load the page again"}`,
		"/api/paper/ribbon.pdf?real=1":                `404 {"error":"there is no such card","hint":"choose the card that is to be shown"}`,
		"/api/paper/explanation.pdf?real=1&row=-1":    `404 {"error":"there is no such card","hint":"choose the card that is to be shown"}`,
		"/api/paper/explanation.pdf?real=1&row=99999": `404 {"error":"there is no such card","hint":"choose the card that is to be shown"}`,
		"/api/paper/cards.csv":                        `404 {"error":"there is nothing at this address","hint":"go back to the start of the bench"}`,
	} {
		if got := tell(t, ask(b, request(http.MethodGet, target, ""))); got != want {
			t.Errorf("%s: %s, want %s", target, got, want)
		}
	}
	other := request(http.MethodGet, "/api/paper/ribbon.pdf?real=1&row=0", "")
	other.Header.Set("Sec-Fetch-Site", "cross-site")
	if w := ask(b, other); w.StatusCode != http.StatusForbidden {
		t.Errorf("a link of another site is answered with %d", w.StatusCode)
	}
}

// The report is there when the run is done and no sooner. It needs nothing but
// itself.
func TestReportIsOfTheRunThatIsDone(t *testing.T) {
	b := bench(t)
	post[runForm](t, b, "/api/run", do{"start"})
	if w := ask(b, request(http.MethodGet, "/api/paper/report.html", "")); w.StatusCode != http.StatusConflict {
		t.Errorf("a report of a run that goes on: %d", w.StatusCode)
	}
	until(t, b, func(f runForm) bool { return f.State == done })
	page := string(taken(t, b, "/api/paper/report.html", "report.html", "text/html; charset=utf-8"))
	for _, want := range []string{"<!doctype html>", "200 cards", "invented person"} {
		if !strings.Contains(strings.ToLower(page), want) {
			t.Errorf("the report does not say %q", want)
		}
	}
	for _, no := range []string{"<script", `src="http`, `href="http`, "url(http", "url(/", "cards.csv", "ribbon.pdf"} {
		if strings.Contains(page, no) {
			t.Errorf("the report holds %s", no)
		}
	}
	noneOf(t, "the report", page, values(b))
}

// The page that explains black recommends a rule that was tried on the run and
// works: the programme's own where it does, as the command's page does.
func TestExplanationRecommendsWhatWorksHere(t *testing.T) {
	b, _ := ownBench(t)
	for _, c := range []struct{ rule, says string }{
		{"objects", "Text and bar code are resin, the photo is dye."},
		{"zones", "Dark dots in marked places are resin, the rest is dye."},
		{"none", "Text and bar code are resin, the photo is dye."},
	} {
		post[benchForm](t, b, "/api/black", obj{"side": "front", "rule": c.rule})
		page := taken(t, b, "/api/paper/explanation.pdf", "explanation.pdf", "application/pdf")
		text := strings.Join(strings.Fields(tool(t, page, "pdftotext", "-x", "0", "-y", "0", "-W", "210", "-H", "842", "-", "-")), " ")
		if !strings.Contains(text, c.says) {
			t.Errorf("under %s the first column says\n%s", c.rule, text)
		}
	}
}
