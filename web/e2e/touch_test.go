package e2e

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// With fingers alone an element is moved on Lay out, the lamp is moved, a face is
// zoomed, and the ribbon is pulled along.
func TestFingers(t *testing.T) {
	p := open(t, serve(t, right()), "#light")
	_, err := chromedp.Call(p.ctx, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: true, MaxTouchPoints: 2})
	p.good(err)

	x, y := p.middle("#lamp")
	p.stroke(x, y, 120, 0)
	p.wait(`state.lamp !== "eye" && state.lamp > 690`)
	p.wait(`document.querySelector("#face-front canvas").dataset.lamp === String(state.lamp) && document.querySelector("#patches li")`)
	for _, c := range [][2]string{{"closer", "!"}, {"whole", ""}} {
		p.tap("[data-zoom="+c[0]+"]", c[1]+`document.querySelector("#face-front canvas").style.transform.includes("scale(1)")`)
	}

	eval[any](p, `document.querySelector("#ribbon-web").scrollIntoView({ block: "center", behavior: "instant" }), null`)
	x, y = p.middle("#ribbon-web")
	p.stroke(x, y, -300, 0)
	p.wait(`document.querySelector("#ribbon-web").scrollLeft > 150`)
	if eval[bool](p, `!!document.querySelector("#frame-large")?.open`) {
		t.Error("to pull the ribbon opens a frame")
	}

	p.turn("#layout")
	piece := `.piece[data-kind="text"]`
	box := fmt.Sprintf(`document.querySelector('%s').dataset.box`, piece)
	was := eval[string](p, box)
	x, y = p.middle(piece)
	p.stroke(x, y, 0, 60)
	p.wait(box + ` !== "` + was + `" && state.bench.unsaved && !layout.desk.busy`)
	if eval[float64](p, `scrollY`) != 0 {
		t.Error("the page scrolls under an element that is moved")
	}
	x, y = p.middle(piece + ` [data-grip="e"]`)
	wide := fmt.Sprintf(`+%s.split(" ")[2]`, box)
	before := eval[float64](p, wide)
	p.stroke(x, y, -60, 0)
	p.wait(fmt.Sprintf(`%s < %v - 2`, wide, before))
}

// What is to be pressed is large enough for a finger: 24 points each way, but for
// links within a sentence (WCAG 2.2, 2.5.8).
func TestTargets(t *testing.T) {
	p := open(t, serve(t, tooLittle()), "#light")
	for _, width := range []int64{1280, 360} {
		p.size(width, 900)
		for _, v := range views {
			p.turn("#" + v.name)
			for _, small := range eval[[]string](p, `[...document.querySelectorAll("button, select, input, summary, a[href]")].filter((e) => {
				const own = e.labels?.[0] ?? e, b = own.getBoundingClientRect(), s = getComputedStyle(e);
				return b.width && s.visibility !== "hidden" && !e.closest(".unseen-words, .skip, .piece") && !(e.tagName === "A" && s.display === "inline") && (b.width < 24 || b.height < 24);
			}).map((e) => { const b = (e.labels?.[0] ?? e).getBoundingClientRect(); return e.tagName + "#" + e.id + "." + e.className + " " + e.textContent.slice(0, 20) + " " + b.width.toFixed(1) + " by " + b.height.toFixed(1); })`) {
				t.Errorf("%s at %d: %s", v.name, width, small)
			}
		}
	}
}

// middle is the middle of what a selector finds, in the window.
func (p *tab) middle(selector string) (x, y float64) {
	p.t.Helper()
	at := eval[[]float64](p, fmt.Sprintf(`(() => { const b = document.querySelector(%q).getBoundingClientRect(); return [b.x + b.width / 2, b.y + b.height / 2]; })()`, selector))
	return at[0], at[1]
}

// stroke lays a finger down, moves it and lifts it.
func (p *tab) stroke(x, y, dx, dy float64) {
	p.t.Helper()
	const steps = 12
	p.finger(input.DispatchTouchEventTypeTouchStart, x, y)
	for i := 1.0; i <= steps; i++ {
		p.finger(input.DispatchTouchEventTypeTouchMove, x+dx*i/steps, y+dy*i/steps)
	}
	p.finger(input.DispatchTouchEventTypeTouchEnd)
}

func (p *tab) finger(what input.DispatchTouchEventType, at ...float64) {
	p.t.Helper()
	points := []*input.TouchPoint{}
	if len(at) == 2 {
		points = append(points, &input.TouchPoint{X: at[0], Y: at[1]})
	}
	_, err := chromedp.Call(p.ctx, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: what, TouchPoints: points})
	p.good(err)
}

// tap touches the middle of what a selector finds until an expression holds: a
// browser that is kept waiting takes a tap for a long press, as a busy telephone
// does.
func (p *tab) tap(selector, until string) {
	p.t.Helper()
	x, y := p.middle(selector)
	for range 10 {
		p.finger(input.DispatchTouchEventTypeTouchStart, x, y)
		p.finger(input.DispatchTouchEventTypeTouchEnd)
		for range 10 {
			if eval[bool](p, until) {
				return
			}
			time.Sleep(50 * time.Millisecond)
		}
	}
	p.t.Fatalf("touching %s never brings %s", selector, until)
}
