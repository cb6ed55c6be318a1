package page

import (
	"encoding/base64"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"brinecut/polymers/cues"
)

// benchTimer is a wait that was started. It is kept on the phone as the moment it began, so that it runs
// on through a locked screen, a closed browser and a server that was started again.
type benchTimer struct {
	Start   int64 // Unix time by the server's clock
	Seconds int
	What    string
}

// Limits of what a phone may keep.
const (
	benchMostTimers  = 6
	benchMostSeconds = 48 * 3600
	benchMostWhat    = 60 // characters
)

// Clock is the time of day it ends.
func (t benchTimer) Clock() string { return time.Unix(t.Start, 0).Add(t.length()).Format("15:04:05") }

// Began is the time of day it was started.
func (t benchTimer) Began() string { return time.Unix(t.Start, 0).Format("15:04:05") }

func (t benchTimer) length() time.Duration { return time.Duration(t.Seconds) * time.Second }

// left says how long it still runs.
func (t benchTimer) left(now time.Time) string {
	d := time.Unix(t.Start, 0).Add(t.length()).Sub(now).Round(time.Second)
	if d <= 0 {
		return "done"
	}
	h, m, s := int(d.Hours()), int(d.Minutes())%60, int(d.Seconds())%60
	if h > 0 {
		return fmt.Sprintf("%d:%02d:%02d to go", h, m, s)
	}
	return fmt.Sprintf("%d:%02d to go", m, s)
}

func (p *BenchPage) timers(r *http.Request) []benchTimer {
	c, err := r.Cookie("timers_" + p.id)
	if err != nil {
		return nil
	}
	var out []benchTimer
	for part := range strings.SplitSeq(c.Value, ".") {
		f := strings.Split(part, "~")
		if len(f) != 3 || len(out) == benchMostTimers {
			continue
		}
		start, err1 := strconv.ParseInt(f[0], 36, 64)
		seconds, err2 := strconv.Atoi(f[1])
		what, err3 := base64.RawURLEncoding.DecodeString(f[2])
		if err1 != nil || err2 != nil || err3 != nil || seconds <= 0 || seconds > benchMostSeconds || start < 0 || start > 1<<40 {
			continue
		}
		out = append(out, benchTimer{start, seconds, cut(string(what), benchMostWhat)})
	}
	return out
}

func (p *BenchPage) keepTimers(w http.ResponseWriter, list []benchTimer) {
	var parts []string
	for _, t := range list {
		parts = append(parts, fmt.Sprintf("%s~%d~%s", strconv.FormatInt(t.Start, 36), t.Seconds, base64.RawURLEncoding.EncodeToString([]byte(t.What))))
	}
	setCookie(w, "timers_"+p.id, strings.Join(parts, "."))
}

// timer starts a wait, or ends one. The same start twice within two seconds is one tap.
func (p *BenchPage) timer(w http.ResponseWriter, r *http.Request) {
	list, now := p.timers(r), p.opt.Now().Unix()
	if end, err := strconv.ParseInt(r.PostFormValue("stop"), 10, 64); err == nil {
		list = slices.DeleteFunc(list, func(t benchTimer) bool { return t.Start == end })
		p.keepTimers(w, list)
		p.answer(w, r, benchAnswer{OK: true, Says: "The timer is gone.", Next: "/"})
		return
	}
	seconds, err := strconv.Atoi(r.PostFormValue("seconds"))
	if err != nil || seconds <= 0 || seconds > benchMostSeconds {
		p.fail(w, r, benchFault{Code: http.StatusUnprocessableEntity, Says: "This is no time to wait.", Cure: "Choose one of the times on the worksheet."})
		return
	}
	t := benchTimer{now, seconds, cut(r.PostFormValue("what"), benchMostWhat)}
	twice := func(x benchTimer) bool { return x.What == t.What && x.Seconds == t.Seconds && now-x.Start <= 2 }
	if !slices.ContainsFunc(list, twice) {
		for slices.ContainsFunc(list, func(x benchTimer) bool { return x.Start == t.Start }) {
			t.Start++ // a timer is known by its start
		}
		list = append(list, t)
	}
	if len(list) > benchMostTimers {
		list = list[len(list)-benchMostTimers:]
	}
	p.keepTimers(w, list)
	p.answer(w, r, benchAnswer{OK: true, Says: "Timer started: " + timeWords(seconds) + ", until " + t.Clock() + ".", Next: "/"})
}

// skipped are the kinds of test that this phone was told not to propose.
func (p *BenchPage) skipped(r *http.Request) []cues.Kind {
	c, err := r.Cookie("skip_" + p.id)
	if err != nil {
		return nil
	}
	given := strings.Split(c.Value, ".")
	return slices.DeleteFunc(cues.Kinds(), func(k cues.Kind) bool { return k == cues.Flame || !slices.Contains(given, string(k)) })
}

// skip leaves a kind of test out of what is proposed to this phone, or takes it up again.
func (p *BenchPage) skip(w http.ResponseWriter, r *http.Request) {
	list, kind, again := p.skipped(r), cues.Kind(r.PostFormValue("kind")), cues.Kind(r.PostFormValue("again"))
	says := ""
	switch {
	case again != "":
		list = slices.DeleteFunc(list, func(k cues.Kind) bool { return k == again })
		says = "Proposed again: " + cut(kindName(again), benchMostWhat) + "."
	case slices.Contains(cues.Kinds(), kind) && kind != cues.Flame:
		list = append(list, kind)
		says = "Not proposed to this phone: " + kindName(kind) + "."
	default:
		p.fail(w, r, benchFault{Code: http.StatusUnprocessableEntity, Says: "There is no such kind of test here.", Cure: "Choose one on the worksheet."})
		return
	}
	var words []string
	for _, k := range list {
		words = append(words, string(k))
	}
	setCookie(w, "skip_"+p.id, strings.Join(words, "."))
	p.answer(w, r, benchAnswer{OK: true, Says: says, Next: "/"})
}

// cut shortens a text to n characters.
func cut(s string, n int) string {
	s = strings.ToValidUTF8(s, "�")
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}
