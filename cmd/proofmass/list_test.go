package main

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"proofmass/jobs/reference"
	"proofmass/jobs/study"
)

// TestMethodsByColumn: every word is explained under the column in which it stands, by
// a meaning that needs no other.
func TestMethodsByColumn(t *testing.T) {
	var columns []string
	words := map[string][]string{}
	for _, e := range reference.List(study.BuiltIn(), "methods") {
		if !slices.Contains(columns, e.Column) {
			columns = append(columns, e.Column)
		}
		words[e.Column] = append(words[e.Column], e.Name)
		for _, not := range []string{"order:", "method:", "the same", "as first"} {
			if strings.Contains(e.Meaning, not) {
				t.Errorf("%s: %q", e.Name, e.Meaning)
			}
		}
	}
	want := map[string]string{
		"method":        "swapped_both_ways none screened random_orders all_subsets classes least_squares elementary_effects",
		"order":         "first total group group_total second shapley first_with_companions ks_distance delta_distance src srrc r2 rank_r2 mean_effect mean_absolute_effect sd_of_effects",
		"of":            "output margin holds",
		"input":         "others shared model_error losses drive",
		"form":          "one_at_a_time conditional",
		"shape":         "one_way turns",
		"claims method": "replicates wilson clopper_pearson weighted rare none", "account_claims method": "replicates wilson clopper_pearson weighted rare none",
		"account_outputs method": "replicates replicates and order_statistics independent none",
		"evidence":               "before after", "evidence method": "weights tempered",

		"summary method": "replicates replicates and order_statistics independent none",
		"role":           "input constant formula output intermediate claim",
		"origin":         "stated default computed",
		"verdict":        "stands in_doubt falls too_few_draws not_judged",
		"sense":          "at_least at_most about",
		"side":           "holds fails",
		"claims side":    "above below within",

		"requires method":     "point nearest_met out_of_reach",
		"measure_next method": "classes pair none",
	}
	for _, column := range columns {
		if got := strings.Join(words[column], " "); got != want[column] {
			t.Errorf("%s: %s, want %s", column, got, want[column])
		}
	}
	if len(columns) != len(want) {
		t.Errorf("columns %v", columns)
	}
}

// TestListMethods: a heading a column, and meanings aligned.
func TestListMethods(t *testing.T) {
	got := proof("list", "methods").out
	at := len("  replicates and order_statistics ")
	for _, line := range strings.Split(got, "\n") {
		if heading := strings.HasPrefix(line, "METHODS: "); !heading && line != "" && (line[at-1] != ' ' || line[at] == ' ') {
			t.Errorf("not aligned: %s", line)
		}
	}
	for _, column := range []string{"method", "order", "of", "input", "form", "shape", "claims method", "summary method", "role", "origin"} {
		if strings.Count(got, "METHODS: "+column+"\n") != 1 {
			t.Errorf("no heading for %s, or several", column)
		}
	}
}

// TestListAboutSeveral: a word of several columns is explained for each.
func TestListAboutSeveral(t *testing.T) {
	for word, want := range map[string][]string{"srrc": {"order"}, "none": {"method", "measure_next method", "account_claims method", "account_outputs method", "claims method", "summary method"}} {
		var columns []string
		if text := proof("list", "--about", word, "--json").out; len(want) == 1 {
			var e reference.Entry
			if err := json.Unmarshal([]byte(text), &e); err != nil {
				t.Fatal(err)
			}
			columns = []string{e.Column}
		} else {
			var all []reference.Entry
			if err := json.Unmarshal([]byte(text), &all); err != nil {
				t.Fatal(err)
			}
			for _, e := range all {
				columns = append(columns, e.Column)
			}
		}
		if fmt.Sprint(columns) != fmt.Sprint(want) {
			t.Errorf("--json of %s: %v, want %v", word, columns, want)
		}
		text := proof("list", "--about", word).out
		for _, column := range want {
			if !strings.Contains(text, "  column        "+column+"\n") {
				t.Errorf("%s lacks %s:\n%s", word, column, text)
			}
		}
	}
}

// TestWordsOfTheStudyAreFound: what is a key of a study, a change, or a currency is explained
// where a reader looks; a seed beyond its range is told what is allowed.
func TestWordsOfTheStudyAreFound(t *testing.T) {
	for _, x := range []struct{ args, want string }{
		{"list --about mass_basis", "a key of a vehicle: mass_basis: us_curb; or eu_running_order"},
		{"list --about certified", "a key of a vehicle: certified: yes | no"},
		{"list outputs", "VEHICLE.NAME_change, what it is more than that of the baseline in per cent"},
		{"help study", "as new.kerb_mass_change, against a baseline"},
		{"list units", "the code of a currency, one a study"},
		{"list --about air_density", "287.05287"},
		{"check none.yaml --seed 99999999999999999999", "--seed: found \"99999999999999999999\"; a seed is a whole number from 0 to 18446744073709551615"},
	} {
		got := proof(strings.Fields(x.args)...)
		if text := strings.Join(strings.Fields(got.out+got.err), " "); !strings.Contains(text, x.want) {
			t.Errorf("%s lacks %q:\n%s", x.args, x.want, text)
		}
	}
}
