package parallel

// Ahead begins work whose result is wanted later, and gives what waits for it. A panic of the work goes on as a
// [Fault] in whoever asks. It is asked for once or more, by one goroutine.
func Ahead[T any](work func() (T, error)) (wait func() (T, error)) {
	var (
		value T
		err   error
		fault *Fault
	)
	done := make(chan struct{})
	go func() {
		defer close(done)
		defer func() {
			if v := recover(); v != nil {
				fault = faultOf(v)
			}
		}()
		Roomy()
		value, err = work()
	}()
	return func() (T, error) {
		<-done
		if fault != nil {
			panic(fault)
		}
		return value, err
	}
}
