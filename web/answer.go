package web

import (
	"encoding/json"
	"errors"
	"io"
	"math"
	"net/http"
	"strconv"

	"unspool/design"
	"unspool/site"
)

// refused is a request that cannot be answered, in words for people: what is
// wrong and what to do.
type refused struct{ what, hint string }

func (r refused) Error() string { return r.what }

// missing is what is asked for and is not there.
type missing refused

func (m missing) Error() string { return m.what }

// answer is a handler that gives a value to be sent as JSON, or an error.
type answer func(r *http.Request) (any, error)

// ServeHTTP sends what the handler gives.
func (a answer) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	v, err := a(r)
	if err != nil {
		fail(w, err)
		return
	}
	send(w, http.StatusOK, v)
}

// fail sends an error. What a programme's own files are wrong with is said as it
// is; it is the user's own.
func fail(w http.ResponseWriter, err error) {
	var no refused
	var gone missing
	var busy conflict
	var faults *design.Faults
	switch {
	case errors.As(err, &faults):
		sendFaults(w, faults)
	case errors.As(err, &gone):
		sendError(w, http.StatusNotFound, gone.what, gone.hint)
	case errors.As(err, &no):
		sendError(w, http.StatusBadRequest, no.what, no.hint)
	case errors.As(err, &busy):
		sendError(w, http.StatusConflict, busy.what, busy.hint)
	case errors.Is(err, errNothing):
		sendError(w, http.StatusConflict, err.Error(), "")
	default:
		sendError(w, http.StatusUnprocessableEntity, err.Error(), "correct the programme and try again")
	}
}

// conflict is a request that does not fit the state of the bench.
type conflict refused

func (c conflict) Error() string { return c.what }

func sendError(w http.ResponseWriter, status int, what, hint string) {
	send(w, status, struct {
		Error string `json:"error"`
		Hint  string `json:"hint"`
	}{what, hint})
}

func send(w http.ResponseWriter, status int, v any) {
	data, err := json.Marshal(v)
	if err != nil {
		panic("web: an answer that is no JSON") // every form of this package is
	}
	sendBytes(w, status, "application/json", data)
}

// sendBytes sends a whole answer. The type says all there is to say of it.
func sendBytes(w http.ResponseWriter, status int, kind string, data ...[]byte) {
	n := 0
	for _, d := range data {
		n += len(d)
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Length", strconv.Itoa(n))
	w.WriteHeader(status)
	for _, d := range data {
		if _, err := w.Write(d); err != nil {
			return // the page has gone
		}
	}
}

// number is a number to six decimals; what is no number becomes null.
type number float64

// MarshalJSON writes the number.
func (n number) MarshalJSON() ([]byte, error) {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, math.Round(1e6*v)/1e6+0, 'f', -1, 64), nil // + 0 takes the sign off a zero
}

func numbers[T ~float32 | ~float64](vs []T) []number {
	out := make([]number, len(vs))
	for i, v := range vs {
		out[i] = number(v)
	}
	return out
}

// take reads the JSON body of a request into v.
func take(r *http.Request, v any) error {
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return refused{"the request is not what this page sends", "load the page again"}
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return refused{"the request holds more than this page sends", "load the page again"}
	}
	return nil
}

// whole reads a whole number of the query, from 0 to most; absent gives usual.
func whole(r *http.Request, name string, usual, most int) (int, error) {
	s := r.URL.Query().Get(name)
	if s == "" {
		return usual, nil
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 0 || n > most {
		return 0, refused{name + " is not a whole number from 0 to " + strconv.Itoa(most), "load the page again"}
	}
	return n, nil
}

func sideOf(name string) (site.Side, error) {
	for _, s := range []site.Side{site.Front, site.Back} {
		if name == s.String() {
			return s, nil
		}
	}
	return 0, missing{"there is no such side", "a card has a front and a back"}
}

func ruleOf(name string) (site.Rule, error) {
	for _, r := range site.Rules {
		if name == r.String() {
			return r, nil
		}
	}
	return 0, missing{"there is no such black rule", "name one that the page lists"}
}
