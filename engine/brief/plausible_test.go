package brief

import (
	"reflect"
	"testing"

	"glassbrief/lang"
)

func TestEveryQuantityHasBounds(t *testing.T) {
	for _, name := range lang.Unbounded(reflect.TypeFor[document]()) {
		t.Errorf("%s takes quantities, and its tag does not say what is possible", name)
	}
}
