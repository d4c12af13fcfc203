package people

// A Landmark is a height on the body of a standing person, as a share of stature.
type Landmark struct {
	Name   string
	Height float64
}

var landmarks = [...]struct {
	name string
	of   ID
}{
	{"eye", Eye}, {"chin", Chin}, {"shoulder", Shoulder}, {"chest", Chest}, {"elbow", Elbow},
	{"navel", Navel}, {"hip", Hip}, {"crotch", Crotch}, {"knee", Knee}, {"ankle", Ankle},
}

// Landmarks lists the landmarks of the body from the top down, in a new slice.
func Landmarks() []Landmark {
	all := make([]Landmark, len(landmarks))
	for i, l := range landmarks {
		all[i] = Landmark{l.name, l.of.Value()}
	}
	return all
}

// LandmarkHeight gives the height of a landmark as a share of stature, and whether the
// name is one of [Landmarks].
func LandmarkHeight(name string) (float64, bool) {
	for _, l := range landmarks {
		if l.name == name {
			return l.of.Value(), true
		}
	}
	return 0, false
}
