package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"unspool/demo"
	"unspool/folder"
)

// served starts the bench with the given arguments and gives its address; stop
// ends it as the keyboard does and gives the exit status.
func served(t *testing.T, args ...string) (address string, stop func() int) {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	out, in := io.Pipe()
	var said bytes.Buffer
	status := make(chan int, 1)
	go func() {
		status <- run(ctx, append([]string{"serve"}, args...), &console{strings.NewReader(""), in, &said})
		in.Close()
	}()
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err, <-status, said.String())
	}
	return strings.TrimSpace(line), func() int { cancel(); return <-status }
}

// small writes a programme of two cards without photos.
func small(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		folder.Name: "unspool: 1\nname: Quay passes\nribbon: {panels: YMCKO, resin: carbon}\nblack: objects\n" +
			"faces:\n  front:\n    - {name: holder, text: \"{name}\", box: [5, 5, 60, 6], size: 4}\nroster: {file: crew.csv, key: number}\n",
		"crew.csv": "number,name\n1,Ida Sund\n2,Per Sund\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestServe(t *testing.T) {
	address, stop := served(t, small(t))
	if !strings.HasPrefix(address, "http://127.0.0.1:") || !strings.HasSuffix(address, "/") {
		t.Errorf("address %q", address)
	}
	for _, at := range []string{address, strings.Replace(address, "127.0.0.1", "localhost", 1)} {
		answer, err := http.Get(at + "api/bench")
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil || answer.StatusCode != 200 || !bytes.Contains(text, []byte("Quay passes")) {
			t.Errorf("%s: %v, %d %.200s", at, err, answer.StatusCode, text)
		}
	}
	if s := stop(); s != exitGood {
		t.Errorf("exit status %d", s)
	}
	if _, err := http.Get(address); err == nil {
		t.Error("it answers after it was stopped")
	}
}

// In a folder without a card file a programme can be begun; one that is not there
// has to be made first.
func TestServeFresh(t *testing.T) {
	dir := t.TempDir()
	address, stop := served(t, dir)
	answer, err := http.Get(address + "api/bench")
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(answer.Body)
	answer.Body.Close()
	if err != nil || string(text) != `{"begin":true}` {
		t.Errorf("%v %s", err, text)
	}
	if s := stop(); s != exitGood {
		t.Errorf("exit status %d", s)
	}
	if all, err := os.ReadDir(dir); err != nil || len(all) > 0 {
		t.Errorf("the folder holds %v, %v", all, err)
	}
	var out, said bytes.Buffer
	if s := run(t.Context(), []string{"serve", filepath.Join(dir, "quay")}, &console{strings.NewReader(""), &out, &said}); s != exitWrong || !strings.Contains(said.String(), "make the folder first") {
		t.Errorf("status %d, %q", s, said.String())
	}
}

// certificate writes a certificate for this machine and its key.
func certificate(t *testing.T) (cert, key string, roots *x509.CertPool) {
	t.Helper()
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	form := &x509.Certificate{SerialNumber: big.NewInt(1), DNSNames: []string{"bench.example"}, IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)},
		NotAfter: time.Now().Add(time.Hour), IsCA: true, BasicConstraintsValid: true}
	der, err := x509.CreateCertificate(rand.Reader, form, form, &private.PublicKey, private)
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(private)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	cert, key = filepath.Join(dir, "cert.pem"), filepath.Join(dir, "key.pem")
	roots = x509.NewCertPool()
	public := pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})
	roots.AppendCertsFromPEM(public)
	for name, data := range map[string][]byte{cert: public, key: pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret})} {
		if err := os.WriteFile(name, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return cert, key, roots
}

// An address that others reach answers over TLS, to the names of its
// certificate, and shows nothing without the passphrase.
func TestServeOthers(t *testing.T) {
	cert, key, roots := certificate(t)
	words := filepath.Join(t.TempDir(), "passphrase")
	if err := os.WriteFile(words, []byte("a long way to the quay\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	address, stop := served(t, small(t), "--listen", "0.0.0.0:0", "--cert", cert, "--key", key, "--passphrase-file", words)
	_, port, err := net.SplitHostPort(strings.TrimSuffix(strings.TrimPrefix(address, "https://"), "/"))
	if err != nil {
		t.Fatal(address, err)
	}
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots}}}
	at := "https://127.0.0.1:" + port
	get := func(path, host string) (int, string) {
		r, err := http.NewRequest(http.MethodGet, at+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		if host != "" {
			r.Host = host + ":" + port
		}
		answer, err := client.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		defer answer.Body.Close()
		text, err := io.ReadAll(answer.Body)
		if err != nil {
			t.Fatal(err)
		}
		return answer.StatusCode, string(text)
	}
	if s, text := get("/", ""); s != 200 || !strings.Contains(text, "Passphrase") {
		t.Errorf("%d %s", s, text)
	}
	for host, want := range map[string]int{"": 401, "bench.example": 401, "0.0.0.0": 421, "rebound.example": 421, "localhost": 421} {
		if s, text := get("/api/bench", host); s != want || strings.Contains(text, "Quay") {
			t.Errorf("%q: %d, want %d", host, s, want)
		}
	}
	if s := stop(); s != exitGood {
		t.Errorf("exit status %d", s)
	}
}

// What is refused before anything is answered.
func TestServeRefuses(t *testing.T) {
	cert, key, _ := certificate(t)
	short := filepath.Join(t.TempDir(), "passphrase")
	if err := os.WriteFile(short, []byte("quay\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"--listen", "0.0.0.0:0"}, "other machines reach this address"},
		{[]string{"--listen", ":8080"}, "other machines reach this address"},
		{[]string{"--listen", "bench.example:0"}, "other machines reach this address"},
		{[]string{"--listen", "[::]:0"}, "other machines reach this address"},
		{[]string{"--listen", "127.0.0.1"}, "is no address with a port"},
		{[]string{"--listen", "127.0.0.1:0", "--cert", cert}, "name a certificate and its private key"},
		{[]string{"--listen", "0.0.0.0:0", "--cert", cert, "--key", key}, "--passphrase-file"},
		{[]string{"--listen", "0.0.0.0:0", "--cert", cert, "--key", key, "--passphrase-file", short}, "too short"},
		{[]string{"--passphrase-file", "nowhere"}, "name a file with the passphrase"},
	} {
		var out, said bytes.Buffer
		s := run(t.Context(), append([]string{"serve", small(t)}, c.args...), &console{strings.NewReader(""), &out, &said})
		if s != exitWrong || out.Len() > 0 || !strings.Contains(said.String(), c.says) {
			t.Errorf("%v: status %d, %q %q", c.args, s, out.String(), said.String())
		}
	}
}

// With no programme named the demo comes onto the bench from the user's cache;
// started again, the files are there and are not drawn anew.
func TestServeDemo(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_CACHE_HOME", filepath.Join(home, "cache"))
	var written []time.Time
	for range 2 {
		address, stop := served(t)
		answer, err := http.Get(address + "api/bench")
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(answer.Body)
		answer.Body.Close()
		if err != nil || !bytes.Contains(text, []byte("Sundhaven crew")) {
			t.Errorf("%v %.200s", err, text)
		}
		if s := stop(); s != exitGood {
			t.Errorf("exit status %d", s)
		}
		all, err := filepath.Glob(filepath.Join(home, "cache", "unspool", "sundhaven", "photos", "*.jpg"))
		if err != nil || len(all) != demo.Cards {
			t.Fatalf("%d photos in the cache, %v", len(all), err)
		}
		info, err := os.Stat(all[0])
		if err != nil {
			t.Fatal(err)
		}
		written = append(written, info.ModTime())
	}
	if !written[0].Equal(written[1]) {
		t.Error("the second start draws the demo again")
	}
}
