// Package chrome starts, for tests, the browser that shows the bench page and
// prints the job sheet.
package chrome

import (
	"context"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// Path is where Chromium is: CHROMIUM of the environment, or a program of one of
// its names. Where there is none the test is skipped, but not in CI.
func Path(t testing.TB) string {
	t.Helper()
	path := os.Getenv("CHROMIUM")
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path == "" {
			path, _ = exec.LookPath(name)
		}
	}
	if path == "" {
		if os.Getenv("CI") == "" {
			t.Skip("there is no Chromium: install it, or name it in CHROMIUM")
		}
		t.Fatal("there is no Chromium: install it, or name it in CHROMIUM")
	}
	return path
}

// Start runs the Chromium at path with a profile in dir and waits at most
// patience for it. The context is that of its first page; end ends it, whether or not
// it started.
func Start(path, dir string, patience time.Duration) (ctx context.Context, end func(), err error) {
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.UserDataDir(dir), chromedp.WSURLReadTimeout(patience),
		// Without these the browser emulates a graphics card in a process of its
		// own, which takes a large share of a small machine.
		chromedp.DisableGPU, chromedp.Flag("in-process-gpu", true),
		chromedp.Flag("disable-gpu-compositing", true), chromedp.Flag("disable-software-rasterizer", true))
	ctx, endAll := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, endOne := chromedp.NewContext(ctx)
	return ctx, func() { endOne(); endAll() }, chromedp.Do(ctx) // it lives as long as the context of its first step
}
