package shot_test

import (
	"fmt"
	"time"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/shot"
)

// A heading may be written relative to the sun. It has a bearing only when it is known when the leg is
// flown: a quarter of an hour out and home is halved, so the leg begins at 19:47:30.
func ExampleReadCard() {
	card, faults := shot.ReadCard("sea.yaml", []byte(`skywedge: 1
name: Sea stacks
place: {lat: 43.4, lon: -8.4, zone: Europe/Madrid}
take_off: 2026-09-18T19:40:00
camera: wide fixed 2.8
flight: {transit_s: 900}
legs:
  - {move: hold, heading_deg: sun+90, seconds: 20, height_m: 30, pitch_deg: 0}
`))
	if len(faults) > 0 {
		fmt.Println(faults)
		return
	}
	s, faults := card.Shot(kit.Generic(), time.Time{})
	if len(faults) > 0 {
		fmt.Println(faults)
		return
	}
	m := shot.Path(s, 2)[0]
	fmt.Println(m.Time[0].Format("15:04:05"))
	fmt.Printf("the sun at %.0f°, the camera at %.0f°, to the %s\n", m.Sun[0].AzimuthDeg, m.HeadingDeg, shot.Compass(m.HeadingDeg))
	// Output:
	// 19:47:30
	// the sun at 264°, the camera at 354°, to the N
}

// A card that says something wrong gets one line a fault, with its place in the file.
func ExampleCard_Shot() {
	card, _ := shot.ReadCard("orbit.yaml", []byte(`skywedge: 1
name: Lighthouse
place: {lat: 43.4, lon: -8.4, zone: Europe/Madrid}
take_off: 2026-09-18T19:40:00
camera: wide
legs:
  - {move: hold, heading_deg: 90, seconds: 20, height_m: 30}
`))
	_, faults := card.Shot(kit.Generic(), time.Time{})
	for _, f := range faults {
		fmt.Println(f)
	}
	// Output:
	// orbit.yaml:5:9: camera: found "wide"; allowed: a camera of the bag: wide fixed 2.8 or longer 4 to 16 (did you mean wide fixed 2.8?)
}
