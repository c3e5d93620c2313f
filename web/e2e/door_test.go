package e2e

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"encoding/pem"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/security"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

const passphrase = "gulls over the quay"

// Over TLS the bench asks for its passphrase, lets in who knows it, and stays open
// for them.
func TestSignIn(t *testing.T) {
	dir := t.TempDir()
	cert, key := certificate(t, dir)
	secret := filepath.Join(dir, "passphrase")
	if err := os.WriteFile(secret, []byte(passphrase+"\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	origin := start(t, "serve", right(), "--cert", cert, "--key", key, "--passphrase-file", secret)
	if !strings.HasPrefix(origin, "https://127.0.0.1:") {
		t.Fatalf("the bench is at %s", origin)
	}
	p := blank(t, origin)
	_, err := chromedp.Call(p.ctx, security.SetIgnoreCertificateErrors, security.SetIgnoreCertificateErrorsParams{Ignore: true})
	p.good(err)
	p.size(1280, 960)
	p.good(chromedp.Do(p.ctx, chromedp.Navigate(origin+"/")))
	p.wait(`document.querySelector("#form")`)
	if eval[bool](p, `document.body.textContent.includes("Sundhaven") || document.scripts.length !== 1`) {
		t.Error("the page tells a stranger of the programme")
	}
	if status := eval[int](p, `fetch("/api/bench").then((r) => r.status)`); status != 401 {
		t.Errorf("a stranger is answered with %d", status)
	}
	eval[any](p, axe+"\n;null")
	p.axe("the sign-in page")

	p.wait(`document.activeElement.id === "passphrase"`)
	for _, c := range strings.Split("gulls over the key", "") {
		p.press(c)
	}
	p.press(kb.Enter)
	p.wait(`document.querySelector("#said").textContent.includes("not the passphrase")`)
	if n := len(p.cookies()); n != 0 {
		t.Errorf("a wrong passphrase leaves %d cookies", n)
	}
	p.axe("the sign-in page after a wrong passphrase")
	for _, c := range strings.Split(passphrase, "") { // the field is selected, so this overwrites
		p.press(c)
	}
	p.press(kb.Enter)
	p.wait(`document.querySelector("canvas.dots[data-lamp]")`)
	p.good(chromedp.Do(p.ctx, chromedp.Reload()))
	p.wait(`document.querySelector("canvas.dots[data-lamp]")`)

	all := p.cookies()
	if len(all) != 1 {
		t.Fatalf("%d cookies", len(all))
	}
	if c := all[0]; !c.Secure || !c.HTTPOnly || c.SameSite != network.CookieSameSiteStrict || !strings.HasPrefix(c.Name, "__Host-") {
		t.Errorf("the cookie is %+v", c)
	}
	if readable := eval[string](p, `document.cookie`); readable != "" {
		t.Errorf("the page can read %q", readable)
	}
	p.forget("401") // the browser's own word for being refused
	if wrong := p.said(); len(wrong) > 0 {
		t.Errorf("the page: %q", wrong)
	}
}

func (p *tab) cookies() []*network.Cookie {
	p.t.Helper()
	got, err := chromedp.Call(p.ctx, network.GetCookies, network.GetCookiesParams{URLs: []string{p.origin + "/"}})
	p.good(err)
	return got.Cookies
}

// certificate writes a certificate for this machine that nobody vouches for.
func certificate(t *testing.T, dir string) (cert, key string) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	form := &x509.Certificate{SerialNumber: big.NewInt(1), NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour), IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}}
	der, err := x509.CreateCertificate(rand.Reader, form, form, &private.PublicKey, private)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	cert, key = filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	for name, block := range map[string]*pem.Block{cert: {Type: "CERTIFICATE", Bytes: der}, key: {Type: "PRIVATE KEY", Bytes: secret}} {
		if err := os.WriteFile(name, pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return cert, key
}
