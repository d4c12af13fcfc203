package parallel

// Roomy grows the stack of the caller at once to what most work takes. A stack grows by being
// copied frame by frame, and from call to call it would be copied several times while it is deep.
func Roomy() { roomy(false) }

//go:noinline
func roomy(used bool) byte {
	if !used { // entering has grown the stack: nothing of it is touched
		return 0
	}
	var room [48 << 10]byte
	for i := range room {
		room[i] = room[i/2] + 1
	}
	return room[len(room)-1]
}
