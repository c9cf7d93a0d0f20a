package layers

import "testing"

func TestLimitRules(t *testing.T) {
	if n := len(LimitRules()); n != int(LimitTotalAmmonia)+1 {
		t.Fatalf("%d rules, want one for every limit", n)
	}
	seen := map[string]bool{}
	for _, rule := range LimitRules() {
		if seen[rule.Name] {
			t.Errorf("%s has two rules", rule.Name)
		}
		seen[rule.Name] = true
		if rule.Default < rule.Min || rule.Default > rule.Max {
			t.Errorf("%s: the default %v is outside %v to %v", rule.Name, rule.Default, rule.Min, rule.Max)
		}
		if rule.Unit == "" || rule.Source == "" || rule.Rule == "" {
			t.Errorf("%s lacks its unit, source or rule", rule.Name)
		}
	}
}

func TestLimits_Of(t *testing.T) {
	limits := Limits{LimitMulm: 30}
	if value, own := limits.Of(LimitMulm); value != 30 || !own {
		t.Errorf("got %v, own %v, want the keeper's 30", value, own)
	}
	// 50 mm: common practice, no source.
	if value, own := Limits(nil).Of(LimitMulm); value != 50 || own {
		t.Errorf("got %v, own %v, want the default, 50", value, own)
	}
}
