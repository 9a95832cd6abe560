package store

import (
	"os"
	"path/filepath"
	"testing"
)

func TestThePlaceIsRemembered(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_STATE_HOME", dir)
	if _, ok := LastPlace(); ok {
		t.Error("a place before any was remembered")
	}
	for _, want := range []Place{{43.3672, -8.4604, "Europe/Madrid"}, {-41.3, 174.8, "Pacific/Auckland"}} {
		if err := RememberPlace(want); err != nil {
			t.Fatal(err)
		}
		if got, ok := LastPlace(); !ok || got != want {
			t.Errorf("got %v %v, want %v", got, ok, want)
		}
	}
	for _, bad := range []string{"", "{", "[]", `{"lat": 91, "lon": 0, "zone": "UTC"}`, `{"lat": 1, "lon": 2}`, `{"lat": "a"}`} {
		if err := os.WriteFile(filepath.Join(dir, "skywedge", placeFile), []byte(bad), 0o600); err != nil {
			t.Fatal(err)
		}
		if p, ok := LastPlace(); ok {
			t.Errorf("%q gives %v", bad, p)
		}
	}
}

func FuzzPlace(f *testing.F) {
	f.Add([]byte(`{"lat": 43.4, "lon": -8.4, "zone": "UTC"}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		if p, err := parsePlace(b); err == nil && (p.LatDeg > 90 || p.LatDeg < -90 || p.Zone == "") {
			t.Errorf("%q gives %v", b, p)
		}
	})
}
