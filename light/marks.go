package light

// run is a stretch of a row with one amount; it ends where the next begins.
type run struct {
	from   float64 // dots
	amount uint8
}

// printed appends the runs of a row whose first dot is column first, grown by
// half a growth on either side. The outermost runs have no outer end.
//
// Growing is taking, at each place, the largest amount within half a growth, and
// shrinking the smallest: boundaries move towards the lighter side, and where a
// lighter run has closed up its darker neighbours meet. One pass with a stack
// does it, as each new boundary can only undo the ones before it.
func printed(runs []run, row []uint8, first int, half float64) []run {
	if len(row) == 0 {
		return runs
	}
	base := len(runs)
	sign := 1
	if half < 0 {
		sign, half = -1, -half
	}
	runs = append(runs, run{float64(first), row[0]})
	for i := 1; i < len(row); i++ {
		if row[i] != row[i-1] {
			runs = push(runs, base, float64(first+i), row[i], half, sign)
		}
	}
	return runs
}

// push ends the last of the runs from base on at the boundary at, where amount
// begins. sign is -1 where the lighter side grows.
func push(runs []run, base int, at float64, amount uint8, half float64, sign int) []run {
	for {
		last := runs[len(runs)-1]
		step := sign * (int(amount) - int(last.amount))
		switch {
		case step == 0:
			return runs
		case step < 0:
			return append(runs, run{at + half, amount})
		case at-half > last.from || len(runs) == base+1:
			return append(runs, run{at - half, amount})
		}
		// The last run is lighter than both sides and has closed up.
		runs = runs[:len(runs)-1]
		if before := runs[len(runs)-1]; sign*(int(amount)-int(before.amount)) < 0 {
			return append(runs, run{last.from, amount})
		}
	}
}
