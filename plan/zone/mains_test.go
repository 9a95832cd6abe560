package zone

import (
	"testing"
	"time"
)

// The mains of some places, by IEC's list of them (World Plugs, from memory): lamps flicker with twice that. Where a place has
// both, or a zone is no place, nothing is told.
func TestMainsHz(t *testing.T) {
	for name, want := range map[string]float64{
		"Europe/Madrid": 50, "Africa/Nairobi": 50, "Australia/Sydney": 50, "Atlantic/Reykjavik": 50, "America/Argentina/Ushuaia": 50, "America/Santiago": 50,
		"America/New_York": 60, "America/Sao_Paulo": 60, "Asia/Seoul": 60, "Asia/Taipei": 60, "Pacific/Honolulu": 60, "Pacific/Pago_Pago": 60, "Pacific/Palau": 60, "Pacific/Majuro": 60, "Pacific/Auckland": 50,
		"Asia/Tokyo": 0, "UTC": 0, "Etc/GMT+5": 0,
	} {
		zone, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		if got := MainsHz(zone); got != want {
			t.Errorf("%s has %g Hz, want %g", name, got, want)
		}
	}
	if got := MainsHz(nil); got != 0 {
		t.Errorf("no zone has %g Hz", got)
	}
}
