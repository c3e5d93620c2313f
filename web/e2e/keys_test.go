package e2e

import (
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// Light, ribbon, readers, findings and black rules are gone through with the
// keyboard alone.
func TestKeyboardAlone(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#light")
	p.press(kb.Tab)
	p.wait(`document.activeElement.id === "skip" && document.activeElement.getBoundingClientRect().width > 20`)

	p.tabTo("#card-next")
	p.press(kb.Enter)
	p.wait(`state.row === 1 && document.querySelector("#which-card b")`)
	p.tabTo("#lamp")
	p.press(kb.ArrowRight)
	p.wait(`state.lamp === 381`)
	p.press(kb.PageUp, kb.PageUp)
	p.wait(`state.lamp === 940`)
	p.press("e")
	p.wait(`state.lamp === "eye"`)
	p.tabTo("#face-front")
	p.press("+", kb.ArrowRight, kb.ArrowDown)
	p.wait(`document.querySelector("#dot-front").textContent.includes("Dot 507 across, 321 down")`)
	p.tabTo("#lay-back")
	p.press(kb.Enter)
	p.wait(`document.querySelector("#lay-next").disabled === false`)
	p.tabTo("#ribbon-web")
	p.press(kb.ArrowRight, kb.Enter)
	p.wait(`document.querySelector("#frame-large")?.open`)
	p.press(kb.Escape)
	p.wait(`!document.querySelector("#frame-large")`)

	p.tabTo("a[data-view=readers]")
	p.press(kb.Enter)
	p.stands("readers")
	p.tabTo(`#card-cells .cell-button[data-code="0"][data-reader="1"]`)
	p.press(kb.Enter)
	p.wait(`document.querySelector("#reading [data-verdict=reads]")`)
	p.tabTo("#trace")
	p.press(kb.ArrowRight)
	p.wait(`/element 1 of/.test(document.querySelector("#element-says").textContent)`)
	p.press("w")
	p.wait(`/weakest/.test(document.querySelector("#element-says").textContent)`)

	p.tabTo("a[data-view=findings]")
	p.press(kb.Enter)
	p.stands("findings")
	p.tabTo(`[data-finding=no-carbon]`)
	p.press(kb.Enter)
	p.wait(`document.querySelector("#place .place")`)
	p.tabTo("#do-remedy")
	p.press(kb.Enter)
	p.stands("rules")
	p.tabTo(`[data-side=front] [data-use=objects]`)
	p.press(kb.Enter)
	p.wait(`document.querySelector("[data-side=front] [data-rule=objects]").dataset.current !== undefined`)
}
