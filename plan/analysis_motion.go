package plan

import (
	"math"
	"slices"

	"example.org/skywedge/kit"
	"example.org/skywedge/plan/motion"
	"example.org/skywedge/plan/setting"
	"example.org/skywedge/plan/shot"
)

// motion judges how fast the picture moves, at some moments of a leg.
func (y *analysis) motion(l *legAnalysis, at []int) {
	for _, k := range at {
		v := y.speedOf(l, k)
		l.step = max(l.step, y.stepOf(l, v.faster()))
		l.pace.Add(y.stepOf(l, v.ground), y.stepOf(l, v.subject), v.seen)
	}
	switch {
	case l.Purpose == shot.Long, l.Purpose == shot.Video && l.ShutterSet:
		l.BlurWish = 1
	case l.Purpose == shot.Video:
		l.BlurWish = setting.WishFor(l.pace.Decides())
	}
	if l.Purpose != shot.Video || l.StillsToo {
		l.Still = setting.StillMotion{PxS: 0, SafeS: math.Inf(1)}
		for _, k := range at {
			if sm := y.stillAt(l, &y.path[l.from+k]); sm.SafeS <= l.Still.SafeS {
				l.Still = sm
			}
		}
	}
}

// motionState returns a moment as package motion sees it.
func motionState(m *shot.Moment) motion.State {
	return motion.State{
		AboveM: max(m.AboveM, 1), PitchDeg: m.PitchDeg, YawDegS: m.YawDegS, PitchDegS: m.PitchDegS,
		Velocity: motion.CameraAxes(m.Velocity, m.HeadingDeg, m.PitchDeg),
	}
}

// speeds are those of the picture at a moment, in px/s.
type speeds struct {
	ground  float64 // 90th percentile below the horizon; without ground that of the turning sky
	subject float64
	seen    bool    // the subject is in the frame
	depthM  float64 // of the subject along the optical axis; 0 without one in the frame
	known   bool
}

// faster is the speed of what moves fastest.
func (v speeds) faster() float64 { return max(v.ground, v.subject) }

// speedOf returns the speeds of a leg's own picture at one of its moments. They are worked out once, for whoever looks at the
// leg more closely too.
func (y *analysis) speedOf(l *legAnalysis, k int) *speeds {
	m := l.reading
	if n := l.to - l.from; len(m.speeds) != n {
		m.speeds = slices.Grow(m.speeds[:0], n)[:n]
		clear(m.speeds)
	}
	v := &m.speeds[k]
	if !v.known {
		*v = y.speedAt(l, &y.path[l.from+k], y.camera(l))
		v.known = true
	}
	return v
}

// speedAt returns the speeds of the picture at a moment.
func (y *analysis) speedAt(l *legAnalysis, m *shot.Moment, c motion.Camera) (v speeds) {
	st := motionState(m)
	flow := motion.Ground(c, st)
	v.ground = flow.P90
	if flow.Samples == 0 {
		v.ground = motion.Distant(c, st)
	}
	if l.Target == nil {
		return v
	}
	pos := motion.CameraAxes(m.Away, m.HeadingDeg, m.PitchDeg)
	vel := motion.CameraAxes(m.TargetVel, m.HeadingDeg, m.PitchDeg)
	if du, dv, depth, ok := motion.Subject(c, st, pos, vel); ok && motion.InFrame(c, pos) {
		v.subject, v.seen, v.depthM = math.Hypot(du, dv), true, depth
	}
	return v
}

// stepOf returns the step of a video picture from frame to frame, in minutes of arc at the viewer's eye,
// for a speed in px/s.
func (y *analysis) stepOf(l *legAnalysis, pxS float64) float64 {
	w := float64(y.s.Camera.VideoPixels[0])
	if l.Purpose != shot.Video || l.FPS <= 0 || w <= 0 {
		return 0
	}
	return y.viewing().StepArcmin(pxS, w, l.FPS)
}

// camera returns a leg's picture in pixels.
func (y *analysis) camera(l *legAnalysis) motion.Camera {
	px := y.s.Camera.Pixels
	if l.Purpose == shot.Video {
		px = y.s.Camera.VideoPixels
	}
	return motion.NewCamera(max(1, float64(px[0])), max(1, float64(px[1])), l.halfW)
}

// leastDepressionDeg is the shallowest view for which the ground at the picture's centre stands in
// for a still's subject.
const leastDepressionDeg = 5

// stillAt judges a still taken at a moment.
func (y *analysis) stillAt(l *legAnalysis, m *shot.Moment) setting.StillMotion {
	c := y.stillCamera()
	var sm setting.StillMotion
	v := y.speedAt(l, m, c)
	sm.PxS, sm.DepthM = v.faster(), v.depthM
	if v.seen { // what must be sharp in a still is its subject
		sm.PxS = v.subject
	}
	if sm.DepthM <= 0 {
		sm.DepthM = max(m.AboveM, 1) / math.Sin(max(leastDepressionDeg, -m.PitchDeg)*math.Pi/180)
	}
	sm.FocalPx = c.FocalPx
	sm.Steady = motion.SteadinessOf(y.s.Settings.Steadiness)
	sm.SafeS = motion.SlowestSafe(motion.Normal, sm.PxS, sm.FocalPx, sm.DepthM, sm.Steady)
	return sm
}

// stillCamera returns the picture of a still in pixels, also where a leg is a film.
func (y *analysis) stillCamera() motion.Camera {
	w, _ := shot.HalfField(y.s.Camera, kit.Mode{}, true)
	px := y.s.Camera.Pixels
	return motion.NewCamera(max(1, float64(px[0])), max(1, float64(px[1])), w)
}
