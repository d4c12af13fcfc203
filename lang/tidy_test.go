package lang

import (
	"testing"
)

func tidyText(text string) string {
	src, _ := NewSource("test", []byte(text))
	return Tidy(src)
}

func TestTidy(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", ""},
		{"column", "shot \"1\" {\nweight 2\n  distance   1.6 m .. 2.8m\n}", "shot \"1\" {\n  weight    2\n  distance  1.6m..2.8m\n}\n"},
		{"long keyword", "lens \"a\" {\nclose_focus   200 mm\n}", "lens \"a\" {\n  close_focus 200mm\n}\n"},
		{"top level is not padded", "use   \"a\"\nexpect  kit \"a\"", "use \"a\"\nexpect kit \"a\"\n"},
		{"one line block", "shot \"1\" { weight 2 } // end", "shot \"1\" {\n  weight    2\n}  // end\n"},
		{"comment behind a brace", "shot \"1\" {// first\nweight 2 // two\n// three\n}", "shot \"1\" {  // first\n  weight    2  // two\n  // three\n}\n"},
		{"empty lines", "\n\nuse \"a\"\n\n\n\nshot \"1\" {\n\n  weight 2\n\n\n  light EV7\n\n}\n\n", "use \"a\"\n\nshot \"1\" {\n  weight    2\n\n  light     EV7\n}\n"},
		{"units", "a 120EUR\nb 2stops\nc 30 °\nd 5ft10in\ne .5 metres\nf 1  1/3 stop", "a 120 EUR\nb 2 stops\nc 30deg\nd 5ft 10in\ne 0.5m\nf 1 1/3 stops\n"},
		{"list", "lens \"a\" {\nengraved 24 , 28,  35 mm\n}", "lens \"a\" {\n  engraved  24, 28, 35mm\n}\n"},
		{"ratio and size", "a 2.39 : 1\nb 36 mm x 24mm", "a 2.39:1\nb 36mm x 24mm\n"},
		{"moment and place", "light sun at 52.37 N 4.90E on 2027-05-03   18:40 Europe/Amsterdam", "light sun at 52.37N 4.90E on 2027-05-03 18:40 Europe/Amsterdam\n"},
		{"open intervals", "shot {\ndistance .. 2m\ndistance 1m ..\n}", "shot {\n  distance  ..2m\n  distance  1m..\n}\n"},
		{"expression", "shot {\nneed a  <   12% because   \"x\"\n}", "shot {\n  need      a  <   12% because \"x\"\n}\n"},
		{"expression over lines", "shot {\nneed (a\n< 2)  \n}", "shot {\n  need      (a\n    < 2)\n}\n"},
		{"carriage returns", "use \"a\"\r\n// b\r\n", "use \"a\"\n// b\n"},
		{"carriage returns alone", "a.0\r\r \nb\r\n\r\nc \r d .1\n\re.0\r", "a 0.0\nb\n\nc \r d .1\ne 0.0\n"},
		{"carriage returns behind a block", "a {\r\n}\r\rb\n}\r", "a {\n}\nb\n}\n"},
		{"a word that a blank would turn into a stop", "a   T0.0x0\nscene   T2", "a   T0.0x0\nscene T2\n"},
		{"a backslash at the end of a line", "a   \"b\\\nc   \"d\"", "a   \"b\\\nc \"d\"\n"},
		{"faults come through", "use ; \"a\n1,5", "use ; \"a\n1,5\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := tidyText(c.text)
			if got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
			if again := tidyText(got); again != got {
				t.Errorf("tidy is not idempotent: got\n%s\nfrom\n%s", again, got)
			}
		})
	}
}
