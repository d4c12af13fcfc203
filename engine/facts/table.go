package facts

import (
	"sync"

	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// A Scope says what a fact depends on, and so how often it is computed.
type Scope uint8

const (
	OfShot Scope = iota + 1 // the shot, camera and rig
	OfLens                  // the lens at a focal length, on the camera and rig
	OfPair                  // both
)

// String names the scope.
func (s Scope) String() string {
	switch s {
	case OfShot:
		return "shot"
	case OfLens:
		return "lens"
	case OfPair:
		return "shot and lens"
	}
	return "invalid scope"
}

// A Fact is one row of the vocabulary.
type Fact struct {
	Name    string
	Truth   bool           // yes or no, rather than a number
	Dim     lang.Dimension // of a number
	Unit    string         // in which it is shown; always metric-neutral for lens sizes
	Scope   Scope
	Meaning string
	Formula string // how it is computed, in the words of the other facts; "" when it is given
	Source  string // where the formula stands, or "given" with the field that gives it
}

// The facts, by scope. The order within a scope is the order in which they are listed.
const (
	SubjectHeight ID = iota
	SubjectWidth
	IsPerson
	SubjectNear
	SubjectFar
	BackgroundDistance
	WantNearLow
	WantNearHigh
	WantFarLow
	WantFarHigh
	SubjectOffset
	FaceStretch
	FocusNear
	FocusFar
	FocusFixed
	FocusPulled
	FocusAuto
	Light
	LightEV
	ShutterTime
	BaseISO
	TopISO
	CameraAutofocus
	CameraSpeed
	TurnRate
	SweepSpeed
	CrossingLimit
	Bob
	Moving
	WalksBackwards
	LowMode
	Running
	OnStairs

	FocalLength
	FrameWidth
	FrameHeight
	FrameDiagonal
	AngleWidth
	AngleHeight
	AngleDiagonal
	SpreadWidth
	SpreadHeight
	ImageCircle
	CircleMargin
	Confusion
	WidestStop
	SmallestStop
	WidestT
	CloseFocus
	Bending
	CornerStretch
	CornerFalloff
	DiffractionStop
	WobbleShare
	LensMass
	LensLength
	RigMass
	PayloadLow
	PayloadHigh
	PayloadPlace
	Mounts
	Adapted
	IsZoom
	IsFisheye
	LensAutofocus
	Hired
	DayRate

	FillNear
	FillFar
	FieldNear
	FieldFar
	FramingHeld
	FramingError
	FramingDistance
	FocusMargin
	Clearance
	EdgeStretch
	NeededStop
	Stop
	TStop
	FocusMark
	NearLimit
	FarLimit
	FocusHeld
	Hyperfocal
	BackgroundBlur
	DiffractionShare
	ISO
	ND
	Short
	BobShare
	CrossingTime
	Pace
	BlurPerFrame

	Count // the number of built-in facts
)

const (
	firstOfLens = FocalLength
	firstOfPair = FillNear
)

// Table gives the vocabulary: the fact with an ID stands at that place.
func Table() []Fact { return table() }

var table = sync.OnceValue(func() []Fact {
	rows := []Fact{
		SubjectHeight: {
			Name: "subject_height", Dim: lang.Length, Unit: "m", Scope: OfShot,
			Meaning: "height of the subject; of a person the stature",
			Source:  "given: subject",
		},
		SubjectWidth: {
			Name: "subject_width", Dim: lang.Length, Unit: "m", Scope: OfShot,
			Meaning: "width of the subject; of one person the shoulders",
			Formula: "0.259 subject_height for a person",
			Source:  "published body-segment proportions",
		},
		IsPerson: {
			Name: "is_person", Truth: true, Scope: OfShot,
			Meaning: "the subject is a person or people",
			Source:  "given: subject",
		},
		SubjectNear: {
			Name: "subject_near", Dim: lang.Length, Unit: "m", Scope: OfShot,
			Meaning: "closest distance from the sensor plane to the subject",
			Source:  "given: distance",
		},
		SubjectFar: {
			Name: "subject_far", Dim: lang.Length, Unit: "m", Scope: OfShot,
			Meaning: "farthest distance from the sensor plane to the subject",
			Source:  "given: distance",
		},
		BackgroundDistance: {
			Name: "background_distance", Dim: lang.Length, Unit: "m", Scope: OfShot,
			Meaning: "distance from the sensor plane to the background",
			Formula: "3 subject_far unless given",
			Source:  "given: background; the default is an assumption of this project",
		},
		WantNearLow: {
			Name: "want_near_low", Dim: lang.Plain, Unit: "%", Scope: OfShot,
			Meaning: "least share of the frame that the subject should fill at its nearest",
			Source:  "given: frame",
		},
		WantNearHigh: {
			Name: "want_near_high", Dim: lang.Plain, Unit: "%", Scope: OfShot,
			Meaning: "largest share of the frame that the subject should fill at its nearest",
			Source:  "given: frame",
		},
		WantFarLow: {
			Name: "want_far_low", Dim: lang.Plain, Unit: "%", Scope: OfShot,
			Meaning: "least share of the frame that the subject should fill at its farthest",
			Source:  "given: frame",
		},
		WantFarHigh: {
			Name: "want_far_high", Dim: lang.Plain, Unit: "%", Scope: OfShot,
			Meaning: "largest share of the frame that the subject should fill at its farthest",
			Source:  "given: frame",
		},
		SubjectOffset: {
			Name: "subject_offset", Dim: lang.Plain, Unit: "%", Scope: OfShot,
			Meaning: "how far the subject stands from the middle of the frame, as a share of half its width",
			Source:  "given: offset",
		},
		FaceStretch: {
			Name: "face_stretch", Dim: lang.Plain, Unit: "%", Scope: OfShot,
			Meaning: "how much wider the nose looks against the face than from far away, at the nearest distance",
			Formula: "head_length / 2 / (subject_near + nose)",
			Source:  "parallel-planes model of a published study of near portraits",
		},
		FocusNear: {
			Name: "focus_near", Dim: lang.Length, Unit: "m", Scope: OfShot,
			Meaning: "nearest distance that must be sharp with one setting of the focus",
			Formula: "subject_near, less what is only kept by eye, what the camera sways or half a face",
			Source:  "given: distance, focus",
		},
		FocusFar: {
			Name: "focus_far", Dim: lang.Length, Unit: "m", Scope: OfShot,
			Meaning: "farthest distance that must be sharp with one setting of the focus",
			Formula: "subject_far, and what is only kept by eye, what the camera sways or half a face",
			Source:  "given: distance, focus",
		},
		FocusFixed: {
			Name: "focus_fixed", Truth: true, Scope: OfShot,
			Meaning: "focus is set once and nobody pulls it",
			Source:  "given: focus",
		},
		FocusPulled: {
			Name: "focus_pulled", Truth: true, Scope: OfShot,
			Meaning: "somebody pulls focus",
			Source:  "given: focus",
		},
		FocusAuto: {
			Name: "focus_auto", Truth: true, Scope: OfShot,
			Meaning: "the camera keeps focus",
			Source:  "given: focus",
		},
		Light: {
			Name: "light", Dim: lang.Illuminance, Unit: "lx", Scope: OfShot,
			Meaning: "light that falls on the subject",
			Source:  "given: light",
		},
		LightEV: {
			Name: "light_ev", Dim: lang.Stops, Unit: "EV", Scope: OfShot,
			Meaning: "the light as an exposure value at ISO 100",
			Formula: "log2(light / 2.5 lx)",
			Source:  "incident-light equation with C = 250",
		},
		ShutterTime: {
			Name: "shutter_time", Dim: lang.Time, Unit: "s", Scope: OfShot,
			Meaning: "exposure time of one frame",
			Formula: "shutter angle / 360 deg / rate",
			Source:  "cine shutter formula",
		},
		BaseISO: {
			Name: "base_iso", Dim: lang.Plain, Scope: OfShot,
			Meaning: "the ISO at which the camera is used when there is light enough",
			Source:  "given: camera",
		},
		TopISO: {
			Name: "top_iso", Dim: lang.Plain, Scope: OfShot,
			Meaning: "the highest ISO that may be used",
			Source:  "given: camera, or iso in the scenario",
		},
		CameraAutofocus: {
			Name: "camera_autofocus", Truth: true, Scope: OfShot,
			Meaning: "the camera can keep focus by itself",
			Source:  "given: camera",
		},
		CameraSpeed: {
			Name: "camera_speed", Dim: lang.Speed, Unit: "m/s", Scope: OfShot,
			Meaning: "speed of the camera",
			Source:  "given: move",
		},
		TurnRate: {
			Name: "turn_rate", Dim: lang.AngularSpeed, Unit: "deg/s", Scope: OfShot,
			Meaning: "rate at which the view turns, in a pan or an orbit",
			Formula: "camera_speed / distance in an orbit",
			Source:  "geometry",
		},
		SweepSpeed: {
			Name: "sweep_speed", Dim: lang.Speed, Unit: "m/s", Scope: OfShot,
			Meaning: "speed of the camera across the view, past the background",
			Source:  "given: move",
		},
		CrossingLimit: {
			Name: "crossing_limit", Dim: lang.Time, Unit: "s", Scope: OfShot,
			Meaning: "shortest time in which something may cross the frame without strobing",
			Formula: "7 s * (24 fps / rate) * (180 deg / shutter)",
			Source:  "seven-second rule, read at 24 fps and 180 deg; the scaling is an extension of this project",
		},
		Bob: {
			Name: "bob", Dim: lang.Length, Unit: "mm", Scope: OfShot,
			Meaning: "rise and fall of the camera with each step that the rig lets through",
			Formula: "bob of the step * (1 - isolation)",
			Source:  "given: move, rig isolation; walking figures from memory",
		},
		Moving: {
			Name: "moving", Truth: true, Scope: OfShot,
			Meaning: "the camera moves",
			Source:  "given: move",
		},
		WalksBackwards: {
			Name: "walks_backwards", Truth: true, Scope: OfShot,
			Meaning: "the operator walks backwards",
			Source:  "given: move",
		},
		LowMode: {
			Name: "low_mode", Truth: true, Scope: OfShot,
			Meaning: "the camera hangs below the grip",
			Source:  "given: move",
		},
		Running: {
			Name: "running", Truth: true, Scope: OfShot,
			Meaning: "the operator runs",
			Source:  "given: move",
		},
		OnStairs: {
			Name: "on_stairs", Truth: true, Scope: OfShot,
			Meaning: "the move goes over stairs",
			Source:  "given: move",
		},
		FocalLength: {
			Name: "focal_length", Dim: lang.Length, Unit: "mm", Scope: OfLens,
			Meaning: "focal length, with the adapter where it has glass",
			Source:  "given: lens",
		},
		FrameWidth: {
			Name: "frame_width", Dim: lang.Length, Unit: "mm", Scope: OfLens,
			Meaning: "width of the part of the sensor that is delivered",
			Formula: "sensor mode, cropped to the delivered ratio",
			Source:  "geometry",
		},
		FrameHeight: {
			Name: "frame_height", Dim: lang.Length, Unit: "mm", Scope: OfLens,
			Meaning: "height of the part of the sensor that is delivered",
			Formula: "sensor mode, cropped to the delivered ratio",
			Source:  "geometry",
		},
		FrameDiagonal: {
			Name: "frame_diagonal", Dim: lang.Length, Unit: "mm", Scope: OfLens,
			Meaning: "diagonal of the part of the sensor that is delivered",
			Formula: "hypot(frame_width, frame_height)",
			Source:  "geometry",
		},
		AngleWidth: {
			Name: "angle_width", Dim: lang.Angle, Unit: "deg", Scope: OfLens,
			Meaning: "angle of view across the width of the picture, at infinity",
			Formula: "2 atan(frame_width squeeze / (2 focal_length)) for a rectilinear lens",
			Source:  "projection formulae",
		},
		AngleHeight: {
			Name: "angle_height", Dim: lang.Angle, Unit: "deg", Scope: OfLens,
			Meaning: "angle of view across the height of the picture, at infinity",
			Formula: "2 atan(frame_height / (2 focal_length)) for a rectilinear lens",
			Source:  "projection formulae",
		},
		AngleDiagonal: {
			Name: "angle_diagonal", Dim: lang.Angle, Unit: "deg", Scope: OfLens,
			Meaning: "angle of view across the diagonal of the picture, at infinity",
			Formula: "from the two sides of the picture",
			Source:  "projection formulae",
		},
		SpreadWidth: {
			Name: "spread_width", Dim: lang.Plain, Scope: OfLens,
			Meaning: "metres of width in the picture for each metre of distance",
			Formula: "2 tan(angle_width / 2)",
			Source:  "geometry",
		},
		SpreadHeight: {
			Name: "spread_height", Dim: lang.Plain, Scope: OfLens,
			Meaning: "metres of height in the picture for each metre of distance",
			Formula: "2 tan(angle_height / 2)",
			Source:  "geometry",
		},
		ImageCircle: {
			Name: "image_circle", Dim: lang.Length, Unit: "mm", Scope: OfLens,
			Meaning: "diameter of the circle that the lens lights",
			Source:  "given: lens circle",
		},
		CircleMargin: {
			Name: "circle_margin", Dim: lang.Plain, Unit: "%", Scope: OfLens,
			Meaning: "how far the image circle reaches past the corners of the frame; negative leaves them dark",
			Formula: "image_circle / frame_diagonal - 1",
			Source:  "geometry",
		},
		Confusion: {
			Name: "confusion", Dim: lang.Length, Unit: "um", Scope: OfLens,
			Meaning: "circle of confusion that still counts as sharp",
			Formula: "frame_diagonal / 1500 unless given",
			Source:  "diagonal rule",
		},
		WidestStop: {
			Name: "widest_stop", Dim: lang.Aperture, Unit: "f/", Scope: OfLens,
			Meaning: "widest f-number",
			Source:  "given: lens aperture",
		},
		SmallestStop: {
			Name: "smallest_stop", Dim: lang.Aperture, Unit: "f/", Scope: OfLens,
			Meaning: "smallest opening, as an f-number",
			Source:  "given: lens aperture",
		},
		WidestT: {
			Name: "widest_t", Dim: lang.Aperture, Unit: "T", Scope: OfLens,
			Meaning: "widest T-number, with the adapter where it has glass",
			Source:  "given: lens transmission",
		},
		CloseFocus: {
			Name: "close_focus", Dim: lang.Length, Unit: "m", Scope: OfLens,
			Meaning: "closest distance from the sensor plane at which the lens focuses",
			Source:  "given: lens close_focus",
		},
		Bending: {
			Name: "bending", Dim: lang.Plain, Unit: "%", Scope: OfLens,
			Meaning: "how far straight lines bend at the edge of the picture: the departure from a rectilinear picture by projection and by distortion",
			Formula: "mapping function against f tan(angle), and the worst edge by the lens's correction, else distortion * (frame_diagonal / image_circle)^2",
			Source:  "mapping functions; models of the open lens-correction database; third-order distortion grows with the square of the radius",
		},
		CornerStretch: {
			Name: "corner_stretch", Dim: lang.Plain, Unit: "%", Scope: OfLens,
			Meaning: "how much longer than wide a small ball looks in the corner",
			Formula: "radial scale / tangential scale - 1",
			Source:  "mapping functions",
		},
		CornerFalloff: {
			Name: "corner_falloff", Dim: lang.Stops, Unit: "stops", Scope: OfLens,
			Meaning: "loss of light in the corner",
			Formula: "4 log2(1 / cos(angle_diagonal / 2)), or the figure of the lens if greater, or its correction at the widest stop",
			Source:  "natural fall-off; given: lens falloff, lens correction",
		},
		DiffractionStop: {
			Name: "diffraction_stop", Dim: lang.Aperture, Unit: "f/", Scope: OfLens,
			Meaning: "stop beyond which diffraction alone blurs more than the circle of confusion",
			Formula: "confusion / (2.44 * 550 nm)",
			Source:  "Airy disc",
		},
		WobbleShare: {
			Name: "wobble_share", Dim: lang.Plain, Unit: "%", Scope: OfLens,
			Meaning: "residual wobble of the rig as a share of the frame width",
			Formula: "rig wobble / angle_width",
			Source:  "geometry; given: rig wobble",
		},
		LensMass: {
			Name: "lens_mass", Dim: lang.Mass, Unit: "g", Scope: OfLens,
			Meaning: "mass of the lens with its adapter",
			Source:  "given: lens mass, adapter mass",
		},
		LensLength: {
			Name: "lens_length", Dim: lang.Length, Unit: "mm", Scope: OfLens,
			Meaning: "from the sensor plane to the front of the lens",
			Formula: "length of the lens with its adapter + flange",
			Source:  "given: lens length, adapter thickness, mount flange",
		},
		RigMass: {
			Name: "rig_mass", Dim: lang.Mass, Unit: "kg", Scope: OfLens,
			Meaning: "what the rig carries: camera, lens, adapter and accessories",
			Formula: "sum of the masses",
			Source:  "given: camera, lens, adapter, accessories",
		},
		PayloadLow: {
			Name: "payload_low", Dim: lang.Mass, Unit: "kg", Scope: OfLens,
			Meaning: "least mass with which the rig can be trimmed",
			Source:  "given: rig payload",
		},
		PayloadHigh: {
			Name: "payload_high", Dim: lang.Mass, Unit: "kg", Scope: OfLens,
			Meaning: "most that the rig may carry",
			Source:  "given: rig payload",
		},
		PayloadPlace: {
			Name: "payload_place", Dim: lang.Plain, Unit: "%", Scope: OfLens,
			Meaning: "place of rig_mass in the window of the rig: 0 at its least, 100 % at its most",
			Formula: "(rig_mass - payload_low) / (payload_high - payload_low)",
			Source:  "arithmetic",
		},
		Mounts: {
			Name: "mounts", Truth: true, Scope: OfLens,
			Meaning: "the lens fits the camera, directly or by an adapter of the catalogue",
			Formula: "flange distances",
			Source:  "geometry",
		},
		Adapted: {
			Name: "adapted", Truth: true, Scope: OfLens,
			Meaning: "the lens needs an adapter",
			Source:  "given: lens mount, camera mount",
		},
		IsZoom: {
			Name: "is_zoom", Truth: true, Scope: OfLens,
			Meaning: "the lens is a zoom",
			Source:  "given: lens focal",
		},
		IsFisheye: {
			Name: "is_fisheye", Truth: true, Scope: OfLens,
			Meaning: "the lens does not draw straight lines straight",
			Source:  "given: lens projection",
		},
		LensAutofocus: {
			Name: "lens_autofocus", Truth: true, Scope: OfLens,
			Meaning: "the lens can be focused by the camera",
			Source:  "given: lens focus",
		},
		Hired: {
			Name: "hired", Truth: true, Scope: OfLens,
			Meaning: "the lens must be hired",
			Source:  "given: lens have",
		},
		DayRate: {
			Name: "day_rate", Dim: lang.Money, Unit: "money", Scope: OfLens,
			Meaning: "what the lens costs a day; nothing when it is owned or borrowed",
			Source:  "given: lens have",
		},
		FillNear: {
			Name: "fill_near", Dim: lang.Plain, Unit: "%", Scope: OfPair,
			Meaning: "share of the frame that the subject fills at its nearest, by height or by width, whichever is more",
			Formula: "subject / (spread * (distance - focal_length))",
			Source:  "thin lens",
		},
		FillFar: {
			Name: "fill_far", Dim: lang.Plain, Unit: "%", Scope: OfPair,
			Meaning: "share of the frame that the subject fills at its farthest",
			Formula: "subject / (spread * (distance - focal_length))",
			Source:  "thin lens",
		},
		FieldNear: {
			Name: "field_near", Dim: lang.Length, Unit: "m", Scope: OfPair,
			Meaning: "height of what the picture shows at the nearest subject",
			Formula: "spread_height * (distance - focal_length)",
			Source:  "thin lens",
		},
		FieldFar: {
			Name: "field_far", Dim: lang.Length, Unit: "m", Scope: OfPair,
			Meaning: "height of what the picture shows at the farthest subject",
			Formula: "spread_height * (distance - focal_length)",
			Source:  "thin lens",
		},
		FramingHeld: {
			Name: "framing_held", Dim: lang.Plain, Unit: "%", Scope: OfPair,
			Meaning: "share of the way between nearest and farthest over which the wanted framing holds",
			Formula: "overlap of the distances that frame it with those of the move",
			Source:  "thin lens",
		},
		FramingError: {
			Name: "framing_error", Dim: lang.Plain, Unit: "%", Scope: OfPair,
			Meaning: "by how much the subject is too large or too small at its worst end; 0 inside the wanted band, 41 % is half a doubling",
			Formula: "fill / edge of the band - 1, or its inverse",
			Source:  "arithmetic",
		},
		FramingDistance: {
			Name: "framing_distance", Dim: lang.Length, Unit: "m", Scope: OfPair,
			Meaning: "distance from the sensor plane that would give the middle of the wanted framing",
			Formula: "s = f (1 + subject / image)",
			Source:  "thin lens",
		},
		FocusMargin: {
			Name: "focus_margin", Dim: lang.Length, Unit: "m", Scope: OfPair,
			Meaning: "room between the nearest subject and the closest focus of the lens",
			Formula: "subject_near - close_focus",
			Source:  "arithmetic",
		},
		Clearance: {
			Name: "clearance", Dim: lang.Length, Unit: "m", Scope: OfPair,
			Meaning: "room between the front of the lens and the nearest subject",
			Formula: "subject_near - lens_length",
			Source:  "arithmetic",
		},
		EdgeStretch: {
			Name: "edge_stretch", Dim: lang.Plain, Unit: "%", Scope: OfPair,
			Meaning: "how much longer than wide the outer part of the subject looks at its place in the frame",
			Formula: "radial scale / tangential scale - 1 at its outer edge",
			Source:  "mapping functions",
		},
		NeededStop: {
			Name: "needed_stop", Dim: lang.Aperture, Unit: "f/", Scope: OfPair,
			Meaning: "widest stop that holds everything from focus_near to focus_far",
			Formula: "f^2 (far - near) / (c (far (near - f) + near (far - f)))",
			Source:  "thin lens, exact",
		},
		Stop: {
			Name: "stop", Dim: lang.Aperture, Unit: "f/", Scope: OfPair,
			Meaning: "stop to set: the widest marked one that holds the focus, within what the lens has",
			Formula: "needed_stop, up to the next third of a stop",
		},
		TStop: {
			Name: "t_stop", Dim: lang.Aperture, Unit: "T", Scope: OfPair,
			Meaning: "the stop as a T-number",
			Formula: "stop widest_t / widest_stop",
		},
		FocusMark: {
			Name: "focus_mark", Dim: lang.Length, Unit: "m", Scope: OfPair,
			Meaning: "distance from the sensor plane to focus at",
			Formula: "2 near far / (near + far)",
			Source:  "split focus, exact for the thin lens",
		},
		NearLimit: {
			Name: "near_limit", Dim: lang.Length, Unit: "m", Scope: OfPair,
			Meaning: "nearest sharp distance from the sensor plane at that stop and mark",
			Formula: "s h / (h + s - f)",
			Source:  "thin lens",
		},
		FarLimit: {
			Name: "far_limit", Dim: lang.Length, Unit: "m", Scope: OfPair,
			Meaning: "farthest sharp distance from the sensor plane at that stop and mark",
			Formula: "s h / (h - s + f)",
			Source:  "thin lens",
		},
		FocusHeld: {
			Name: "focus_held", Dim: lang.Plain, Unit: "%", Scope: OfPair,
			Meaning: "share of what must be sharp that is sharp",
			Formula: "overlap of near_limit..far_limit with focus_near..focus_far",
			Source:  "arithmetic",
		},
		Hyperfocal: {
			Name: "hyperfocal", Dim: lang.Length, Unit: "m", Scope: OfPair,
			Meaning: "hyperfocal distance at that stop, from the lens",
			Formula: "f^2 / (N c) + f",
			Source:  "thin lens",
		},
		BackgroundBlur: {
			Name: "background_blur", Dim: lang.Plain, Unit: "%", Scope: OfPair,
			Meaning: "blur disc of a point in the background as a share of the frame width",
			Formula: "abs(x - s) / x * f^2 / (N (s - f)) / frame_width",
			Source:  "thin lens",
		},
		DiffractionShare: {
			Name: "diffraction_share", Dim: lang.Plain, Unit: "%", Scope: OfPair,
			Meaning: "Airy disc at that stop as a share of the circle of confusion",
			Formula: "2.44 * 550 nm * stop / confusion",
			Source:  "Airy disc",
		},
		ISO: {
			Name: "iso", Dim: lang.Plain, Scope: OfPair,
			Meaning: "ISO to set at that stop",
			Formula: "C T^2 / (light shutter_time), to the next third, from base_iso up",
			Source:  "incident-light equation",
		},
		ND: {
			Name: "nd", Dim: lang.Stops, Unit: "stops", Scope: OfPair,
			Meaning: "neutral density needed at base_iso",
			Formula: "log2(base_iso / ISO needed), to a third",
			Source:  "incident-light equation",
		},
		Short: {
			Name: "short", Dim: lang.Stops, Unit: "stops", Scope: OfPair,
			Meaning: "stops of light missing at top_iso",
			Formula: "log2(ISO needed / top_iso)",
			Source:  "incident-light equation",
		},
		BobShare: {
			Name: "bob_share", Dim: lang.Plain, Unit: "%", Scope: OfPair,
			Meaning: "rise and fall of the camera as a share of the frame height at the nearest subject",
			Formula: "bob / field height",
			Source:  "geometry",
		},
		CrossingTime: {
			Name: "crossing_time", Dim: lang.Time, Unit: "s", Scope: OfPair,
			Meaning: "time in which the background crosses the frame",
			Formula: "angle_width / turn_rate, or field width / sweep_speed",
			Source:  "geometry",
		},
		Pace: {
			Name: "pace", Dim: lang.Plain, Unit: "%", Scope: OfPair,
			Meaning: "crossing_time against crossing_limit: under 100 % it strobes",
			Formula: "crossing_time / crossing_limit",
			Source:  "seven-second rule",
		},
		BlurPerFrame: {
			Name: "blur_per_frame", Dim: lang.Plain, Unit: "%", Scope: OfPair,
			Meaning: "motion blur of the background in one frame as a share of the frame width",
			Formula: "shutter_time / crossing_time",
			Source:  "geometry",
		},
	}
	return rows
})

// Find looks a fact up by name.
func Find(name string) (ID, bool) {
	id, ok := byName()[name]
	return id, ok
}

var byName = sync.OnceValue(func() map[string]ID {
	index := map[string]ID{}
	for id, fact := range Table() {
		index[fact.Name] = ID(id)
	}
	return index
})

// Vocabulary gives the names that expressions may use, in the order of their IDs. Each
// call gives a new one, since a rules file may define further names behind them.
func Vocabulary() *expression.Vocabulary {
	names := make([]expression.Name, 0, Count)
	for _, fact := range Table() {
		name := expression.Name{Name: fact.Name, Kind: expression.Number, Dim: fact.Dim, Unit: fact.Unit, Meaning: fact.Meaning}
		if fact.Truth {
			name.Kind = expression.Truth
		}
		names = append(names, name)
	}
	return expression.NewVocabulary(names)
}
