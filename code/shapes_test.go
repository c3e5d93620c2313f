package code_test

import "unspool/code"

// The shapes of texts that are not any row of characters.

// pairs are the texts of Interleaved 2 of 5.
func pairs(pool string, n int, o code.Options) (string, bool) {
	return pool[:n], (n%2 == 0) == (o.Check == code.NoCheck)
}

// only is the texts of one length.
func only(length int) func(string, int, code.Options) (string, bool) {
	return func(pool string, n int, _ code.Options) (string, bool) { return pool[:n], n == length }
}

// elements are a batch and a serial number of the GS1 system.
func elements(pool string, n int, _ code.Options) (string, bool) {
	switch {
	case n <= 20:
		return "(21)" + pool[:n], true
	case n <= 40:
		return "(10)" + pool[:20] + "(21)" + pool[20:n], true
	}
	return "", false
}

// donations are donation identification numbers where their check is asked for,
// else another data structure of ISBT 128.
func donations(pool string, n int, o code.Options) (string, bool) {
	if o.Check == code.Mod37 {
		return "=A" + pool[:12], n == 12
	}
	return "&>" + pool[:n], true
}

// short are the UPC-E whose zeros are left out the one legal way.
func short(pool string, n int, _ code.Options) (string, bool) {
	d := []byte(pool[:7])
	d[0] = '0' + d[0]%2
	switch last := d[6]; {
	case last == '3' && d[3] <= '2':
		d[3] = '7'
	case last == '4' && d[4] == '0':
		d[4] = '7'
	case last >= '5' && d[5] == '0':
		d[5] = '7'
	}
	return string(d), n == 7
}
