package report

import (
	"html/template"

	"unspool/proof"
)

// The sign of a verdict is a bar of a bar code: solid where the code reads, half
// full where there is little to spare, hollow and broken where it does not
// read. It always stands beside its word, so readers of the page by ear skip it.
const (
	signOpen = `<svg class="sign" viewBox="0 0 12 28" aria-hidden="true" focusable="false">`
	solid    = signOpen + `<path class="full" d="M1 0h10v28H1z"/></svg>`
	half     = signOpen + `<path class="line" d="M2 1h8v26H2z"/><path class="full" d="M1 14h10v14H1z"/></svg>`
	broken   = signOpen + `<path class="line" d="M2 1h8v9l-8 4z"/><path class="line" d="M2 19l8-4v12H2z"/></svg>`
	absent   = signOpen + `<path class="full" d="M1 13h10v2H1z"/></svg>`
)

func sign(v proof.Verdict) template.HTML {
	switch v {
	case proof.Reads:
		return solid
	case proof.Little:
		return half
	case proof.Fails:
		return broken
	}
	return absent
}
