package binfile_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"brinecut/polymers"
	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

func symbols(names ...string) []polymers.Symbol {
	var out []polymers.Symbol
	for _, n := range names {
		out = append(out, polymers.Symbol(n))
	}
	return out
}

func TestReadJobs(t *testing.T) {
	want := []sorting.Job{
		{Line: 2, Machine: "one", Material: "PETG", Mass: 120.5, Hours: 8.25},
		{Line: 3, Machine: "two", Material: "PLA", Mass: 10, Failed: true},
	}
	for name, src := range map[string]string{
		"comma":            "machine,material,mass_g,hours,outcome\none,PETG,120.5,8.25,ok\ntwo,PLA,10,0,failed\n",
		"semicolon":        "machine;material;mass_g;hours;outcome\none;PETG;120,5;8,25;ok\ntwo;PLA;10;0;failed",
		"tab, CRLF, mark":  "\ufeffmachine\tmaterial\tmass_g\thours\toutcome\r\none\tPETG\t120.5\t8.25\tok\r\ntwo\tPLA\t10\t0\tfailed\r\n",
		"other order":      "outcome,hours,mass_g,material,machine\nok,8.25,120.5,PETG,one\nfailed,0,10,PLA,two\n",
		"a column besides": "file,machine,material,mass_g,hours,outcome\n\"a,b\",one,pet-g,120.5,8.25,ok\nx,two,pla,10,0,failed\n",
	} {
		got, err := binfile.ReadJobs("jobs.csv", []byte(src))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}

func TestReadJobsRefuses(t *testing.T) {
	const head = "machine,material,mass_g,hours,outcome\n"
	for _, c := range []struct{ name, src, want string }{
		{"empty", "", "jobs.csv:1: the list is empty; write the columns machine, material, mass_g, hours, outcome in its first line"},
		{"column missing", "machine,material,mass,hours,outcome\n", `jobs.csv:1: the column "mass_g" is missing; did you mean it by "mass"? write "mass_g"`},
		{"column doubled", "machine,material,mass_g,hours,outcome,hours\n", "jobs.csv:1: column 6: this column is there already, as column 4 (read hours); keep one of the two"},
		{"columns short", head + "one,PLA,5,1\n", "jobs.csv:2: this line has 4 columns and the first has 5 (read one,PLA,5,1); give each line the same columns; a comma inside a text needs quotes round it"},
		{"material", head + "one,PLX,5,1,ok\n", `jobs.csv:2: column 2 (material): there is no such material (read PLX); did you mean "PLA"? "brinecut polymer" lists them all`},
		{"outcome", head + "one,PLA,5,1,OK\n", `jobs.csv:2: column 5 (outcome): there is no such outcome (read OK); did you mean "ok"? write one of ok, failed`},
		{"mass below nothing", head + "one,PLA,-5,1,ok\n", "jobs.csv:2: column 3 (mass_g): this is not a plain number (read -5); write a number from 0 up with a decimal point, such as 12.5"},
		{"not a number", head + "one,PLA,NaN,1,ok\n", "jobs.csv:2: column 3 (mass_g): this is not a plain number (read NaN); write a number from 0 up with a decimal point, such as 12.5"},
		{"infinite", head + "one,PLA,5,1e400,ok\n", "jobs.csv:2: column 4 (hours): this number is too large (read 1e400); write a number from 0 up with a decimal point, such as 12.5"},
		{"with a unit", head + "one,PLA,5 g,1,ok\n", "jobs.csv:2: column 3 (mass_g): this is not a plain number (read 5 g); write a number from 0 up with a decimal point, such as 12.5"},
		{"comma two ways", strings.ReplaceAll(head, ",", ";") + "one;PLA;1,234;1;ok\n", "jobs.csv:2: column 3 (mass_g): this is not a plain number (read 1,234); write a number from 0 up with a decimal point, such as 12.5"},
		{"terminal escape", head + "\x1b[31mone,PLA,5,1,ok\n", `jobs.csv:2: column 1 (machine): this name is too long, or has a character that cannot be seen (read \x1b[31mone); write up to 200 characters`},
		{"quote inside", head + "one,PLA,5,1,ok\n3\" nozzle,PLA,5,1,ok\n", `jobs.csv:3: column 2: this line cannot be read as a CSV; write a quote inside quotes twice: "3"" nozzle"`},
		{"encoding", head + "caf\xe9,PLA,5,1,ok\n", "jobs.csv:2: this line is not in UTF-8 (read caf�,PLA,5,1,ok); save it as UTF-8 in the editor"},
		{"two lines", head + "one,PLA,5,1,good\ntwo,PLA,x,1,ok\n", "jobs.csv:2: column 5 (outcome): there is no such outcome (read good); write one of ok, failed\n" +
			"jobs.csv:3: column 3 (mass_g): this is not a plain number (read x); write a number from 0 up with a decimal point, such as 12.5"},
	} {
		jobs, err := binfile.ReadJobs("jobs.csv", []byte(c.src))
		if err == nil || err.Error() != c.want || jobs != nil {
			t.Errorf("%s: %v\nwant %s", c.name, err, c.want)
		}
	}
}
