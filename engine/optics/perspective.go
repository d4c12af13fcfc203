package optics

import "math"

// FaceStretch gives how much wider the base of the nose looks against the face, as a
// share, than from very far away: (L/2)/(d+P). It depends on the distance from the camera
// to the tip of the nose alone, not on the focal length. L is the length of the head and
// P the protrusion of the nose. All in metres, distance and length positive.
//
// Source: "Nasal Distortion in Short-Distance Photographs", JAMA Facial Plastic Surgery,
// 2018, whose model takes the face as parallel planes.
func FaceStretch(distance, headLength, protrusion float64) float64 {
	if !(distance > 0 && headLength > 0 && protrusion >= 0) {
		return math.NaN()
	}
	return headLength / 2 / (distance + protrusion)
}

// EdgeStretch gives how much longer a small round thing looks along the line from the
// middle of the picture than across it, as a share, at the angle theta from the axis.
// Negative means that it looks flattened towards the middle. NaN where the projection has
// no image.
//
// Source: optics glossary, "Fisheye types".
func EdgeStretch(p Projection, theta float64) float64 {
	return RadialScale(p, theta)/TangentialScale(p, theta) - 1
}

// NaturalFalloff gives how much darker a simple rectilinear lens is at the angle theta
// from its axis, in stops, by the cosine-fourth law. Within 90 degrees; NaN beyond.
// Retrofocus designs and fisheyes do better.
//
// Source: photographic lenses FAQ, "What are vignetting and light falloff".
func NaturalFalloff(theta float64) float64 {
	if !Rectilinear.sees(theta) {
		return math.NaN()
	}
	return -4 * math.Log2(math.Cos(theta))
}
