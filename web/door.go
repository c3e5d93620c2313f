package web

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"errors"
	"net/http"
	"sync"
	"time"

	"golang.org/x/crypto/scrypt"
)

// LeastPassphrase is how many characters a passphrase has at least. Guessing one
// takes a second a try, so what counts is that it is no word (common practice, no
// source).
const LeastPassphrase = 12

// Bounds of signing in.
const (
	sessionHours = 12
	maxSessions  = 64
	wrongWait    = time.Second // after a wrong passphrase, before the next is tried
)

// cookie holds the session. The prefix makes browsers hold to Secure, Path=/ and
// to this very host (RFC 6265bis 4.1.3.2).
const cookie = "__Host-unspool"

// door lets in who knows the passphrase.
type door struct {
	salt, key []byte
	trying    sync.Mutex // one passphrase is tried at a time

	mu       sync.Mutex
	sessions map[[sha256.Size]byte]time.Time // by the hash of the token: when it ends
}

func newDoor(passphrase string) (*door, error) {
	if len([]rune(passphrase)) < LeastPassphrase {
		return nil, errors.New("the passphrase is too short; use twelve characters or more")
	}
	d := &door{salt: make([]byte, 16), sessions: map[[sha256.Size]byte]time.Time{}}
	rand.Read(d.salt)
	var err error
	d.key, err = d.stretch(passphrase)
	return d, err
}

// stretch makes the passphrase costly to guess: the figures of the package for
// interactive use.
func (d *door) stretch(passphrase string) ([]byte, error) {
	return scrypt.Key([]byte(passphrase), d.salt, 1<<15, 8, 1, 32)
}

// open says whether a request comes from who has signed in.
func (d *door) open(r *http.Request) bool {
	c, err := r.Cookie(cookie)
	if err != nil {
		return false
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	return time.Now().Before(d.sessions[sha256.Sum256([]byte(c.Value))])
}

// try gives a token for the right passphrase.
func (d *door) try(passphrase string) (token string, ok bool) {
	d.trying.Lock()
	defer d.trying.Unlock()
	key, err := d.stretch(passphrase)
	if err != nil || subtle.ConstantTimeCompare(key, d.key) != 1 {
		time.Sleep(wrongWait)
		return "", false
	}
	token = rand.Text()
	d.mu.Lock()
	defer d.mu.Unlock()
	d.admit(sha256.Sum256([]byte(token)), time.Now())
	return token, true
}

// admit adds a session; the oldest gives way where there are too many.
func (d *door) admit(token [sha256.Size]byte, now time.Time) {
	for len(d.sessions) >= maxSessions {
		var oldest [sha256.Size]byte
		ends := now.Add(2 * sessionHours * time.Hour)
		for k, t := range d.sessions {
			if t.Before(ends) {
				oldest, ends = k, t
			}
		}
		delete(d.sessions, oldest)
	}
	d.sessions[token] = now.Add(sessionHours * time.Hour)
}

// forStrangers says whether a request is part of signing in.
func forStrangers(r *http.Request) bool {
	switch r.URL.Path {
	case "/assets/sign-in.js", "/assets/sign-in.css":
		return true
	case "/api/sign-in":
		return r.Method == http.MethodPost
	}
	return false
}

func (b *Bench) signIn(w http.ResponseWriter, r *http.Request) {
	var said struct{ Passphrase string }
	if err := take(r, &said); err != nil {
		fail(w, err)
		return
	}
	if b.door == nil {
		fail(w, missing{"no passphrase is asked for", "go back to the start of the bench"})
		return
	}
	token, ok := b.door.try(said.Passphrase)
	if !ok {
		sendError(w, http.StatusUnauthorized, "that is not the passphrase", "try again")
		return
	}
	http.SetCookie(w, &http.Cookie{Name: cookie, Value: token, Path: "/", Secure: true, HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: sessionHours * 3600})
	send(w, http.StatusOK, struct{}{})
}
