package sheet

import (
	"context"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"testing"
	"time"
)

// named returns a program that is looked for under some names, and skips the test where there is none.
func named(t *testing.T, what string, names ...string) string {
	t.Helper()
	for _, n := range names {
		if path, err := exec.LookPath(n); err == nil {
			return path
		}
	}
	t.Skipf("there is no %s on this machine: the sheet is not looked at with one", what)
	return ""
}

// A validator that knows HTML 5 finds nothing (tidy, version 5).
func TestValidator(t *testing.T) {
	t.Parallel()
	tidy := named(t, "validator (tidy)", "tidy")
	for i, s := range []*Sheet{whole(t), single(t, "Breakwater"), single(t, "Lighthouse")} {
		file := filepath.Join(t.TempDir(), "sheet.html")
		if err := os.WriteFile(file, s.HTML(), 0o600); err != nil {
			t.Fatal(err)
		}
		if out, err := exec.Command(tidy, "-q", "-e", file).CombinedOutput(); err != nil || len(out) > 0 {
			t.Errorf("sheet %d: %v\n%s", i, err, out)
		}
	}
}

// browser runs a browser without a screen on a sheet. It has no network: what is not on the page is not there.
func browser(t *testing.T, page []byte, args ...string) {
	t.Helper()
	path := named(t, "browser (Chromium)", "chromium", "chromium-browser")
	dir := t.TempDir()
	file := filepath.Join(dir, "sheet.html")
	if err := os.WriteFile(file, page, 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(t.Context(), time.Minute)
	defer stop()
	args = append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--no-first-run", "--host-resolver-rules=MAP * ~NOTFOUND",
		"--user-data-dir=" + filepath.Join(dir, "browser")}, append(args, "file://"+file)...)
	cmd := exec.CommandContext(ctx, path, args...)
	cmd.WaitDelay = 5 * time.Second
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Skipf("the browser does not run here: %v\n%s", err, out)
	}
}

// On a phone of 360 pixels nothing stands out of the page at its right, by day and by night, and the ground is as light
// or as dark as the system asks.
func TestOnAPhone(t *testing.T) {
	t.Parallel()
	page := single(t, "Lighthouse").HTML()
	for _, c := range []struct {
		scheme string
		dark   bool
	}{{"1", false}, {"0", true}} {
		file := filepath.Join(t.TempDir(), "phone.png")
		browser(t, page, "--window-size=360,2600", "--force-device-scale-factor=1", "--blink-settings=preferredColorScheme="+c.scheme, "--screenshot="+file)
		img := readPNG(t, file)
		if img.Bounds().Dx() != 360 {
			t.Fatalf("%d pixels wide", img.Bounds().Dx())
		}
		ground := img.At(2, 2)
		if r, _, _, _ := ground.RGBA(); r < 0x8000 != c.dark {
			t.Errorf("dark %v: the ground is %v", c.dark, ground)
		}
		var inked, margin int
		for y := range img.Bounds().Dy() {
			for x := range 360 {
				if img.At(x, y) != ground {
					inked++
					if x < 8 || x >= 352 {
						margin++
					}
				}
			}
		}
		if inked < 50_000 || margin > 0 {
			t.Errorf("dark %v: %d pixels are set, %d of them in the margins", c.dark, inked, margin)
		}
	}
}

func readPNG(t *testing.T, file string) image.Image {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// pages counts the pages of a PDF by their entries in its tree (ISO 32000-1, 7.7.3.3); the browser leaves these
// uncompressed.
var pages = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// On A4 two shots stand on a page: seven shots take four, after one for the trip; a single shot takes one.
func TestOnPaper(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		sheet *Sheet
		want  int
	}{{whole(t), 5}, {single(t, "Breakwater"), 1}} {
		file := filepath.Join(t.TempDir(), "sheet.pdf")
		browser(t, c.sheet.HTML(), "--print-to-pdf="+file, "--no-pdf-header-footer")
		pdf, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got := len(pages.FindAll(pdf, -1)); got != c.want {
			t.Errorf("%d shots take %d pages, want %d", len(c.sheet.Shots), got, c.want)
		}
		if a4 := regexp.MustCompile(`/MediaBox \[0 0 59[45][.0-9]* 84[12][.0-9]*\]`); !a4.Match(pdf) {
			t.Error("the page is not A4 (595 by 842 points)")
		}
	}
}
