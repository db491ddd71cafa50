package bench

import (
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"testing"
	"time"
)

// Many requests a second for a minute on the machine itself: for figures, by
// SLIPCASE_LONG, since a busy machine says nothing.
func TestUnderLoad(t *testing.T) {
	if os.Getenv("SLIPCASE_LONG") == "" {
		t.Skip("SLIPCASE_LONG is not set")
	}
	srv, d, _ := at(t, nil)
	id := opened(t, d)
	get(t, srv, "/case/"+id, nil)
	load(t, srv, "/case/"+id, 200, time.Minute)
}

func load(t *testing.T, srv *httptest.Server, path string, perSecond int, span time.Duration) {
	t.Helper()
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 200, DialContext: (&net.Dialer{}).DialContext}}
	type result struct {
		took time.Duration
		bad  string
	}
	n := perSecond * int(span/time.Second)
	out := make(chan result, n)
	tick := time.NewTicker(time.Second / time.Duration(perSecond))
	defer tick.Stop()
	for range n {
		<-tick.C
		go func() {
			from := time.Now()
			res, err := client.Get(srv.URL + path)
			r := result{}
			if err != nil {
				r.bad = err.Error()
			} else {
				res.Body.Close()
				if res.StatusCode != http.StatusOK {
					r.bad = res.Status
				}
			}
			r.took = time.Since(from)
			out <- r
		}()
	}
	var took []time.Duration
	for range n {
		r := <-out
		if r.bad != "" {
			t.Error(r.bad)
		}
		took = append(took, r.took)
	}
	tell(t, n, took)
}

func tell(t *testing.T, n int, took []time.Duration) {
	slices.Sort(took)
	t.Logf("%d requests: median %v, p99 %v, longest %v", n, took[n/2], took[n*99/100], took[n-1])
}
