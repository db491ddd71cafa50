package bench

import (
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/casework"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/engine"
	"slipcase/internal/size"
)

// Many tablets at once: no request fails. With SLIPCASE_LONG=1 it is 200
// requests a second for a minute; what they took is told, not judged, since it
// says nothing of a busy machine.
func TestUnderLoad(t *testing.T) {
	perSecond, span := size.Of(100, 100, 200), size.Of(time.Second, 2*time.Second, time.Minute)
	if !size.Long() && testing.Short() {
		t.Skip("it takes its time")
	}
	srv, d, _ := at(t, nil)
	ans, err := d.OpenCase(t.Context(), casework.OpenInput{Unit: "four-gearset-8", Title: "under load"})
	if err != nil {
		t.Fatal(err)
	}
	id := ans.Data.ID
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 200}}
	type result struct {
		page string
		took time.Duration
		bad  string
	}
	ask := func(page string) (r result) {
		r.page = page
		from := time.Now()
		res, err := client.Get(srv.URL + page)
		if err != nil {
			return result{page, 0, err.Error()}
		}
		defer res.Body.Close()
		if _, err := io.Copy(io.Discard, res.Body); err != nil {
			r.bad = err.Error()
		} else if res.StatusCode != http.StatusOK {
			r.bad = res.Status
		}
		r.took = time.Since(from)
		return r
	}
	c := "/case/" + id
	pages := []string{c, c, c + "/ask", c + "/plan", c + "/note", c + "/log", c + "/chart", c + "/parts", "/", c}
	for _, p := range pages {
		if r := ask(p); r.bad != "" {
			t.Fatal(r.page, r.bad)
		}
	}
	words := d.FindingWords(t.Context(), asking.CaseRef{In: id})
	if len(words) == 0 {
		t.Fatal("the unit has no finding")
	}
	n := perSecond * int(span/time.Second)
	out := make(chan result, n)
	tick := time.NewTicker(time.Second / time.Duration(perSecond))
	defer tick.Stop()
	entries := 0
	var writing sync.WaitGroup
	for i := range n {
		<-tick.C
		// Somebody writes as well: every fifth second all pages are made anew,
		// and with every other entry, a finding, all answers are worked out anew.
		if i%(5*perSecond) == perSecond/2 {
			in := casework.NoteInput{Text: fmt.Sprint("entry ", entries)}
			if entries%2 == 0 {
				in = casework.NoteInput{By: "driver", Items: []notation.Item{{Report: &engine.Report{Finding: words[entries*7%len(words)].Name, State: engine.Absent}}}}
			}
			entries++
			writing.Go(func() {
				if _, err := d.Note(t.Context(), opened.Ref{In: id}, in); err != nil {
					t.Error(err)
				}
			})
		}
		go func() { out <- ask(pages[i%len(pages)]) }()
	}
	writing.Wait()
	took := map[string][]time.Duration{}
	for range n {
		r := <-out
		if r.bad != "" {
			t.Errorf("%s: %s", r.page, r.bad)
		}
		took["all"] = append(took["all"], r.took)
		took[strings.TrimPrefix(r.page, c)] = append(took[strings.TrimPrefix(r.page, c)], r.took)
	}
	for page, list := range took {
		slices.Sort(list)
		t.Logf("%-7s %6d requests: median %v, p99 %v, longest %v", page, len(list), list[len(list)/2].Round(time.Millisecond/10), list[len(list)*99/100].Round(time.Millisecond/10), list[len(list)-1].Round(time.Millisecond))
	}
}
