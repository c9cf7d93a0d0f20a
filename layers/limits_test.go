package layers

import "testing"

func TestLimitRules(t *testing.T) {
	seen := map[Limit]bool{}
	for _, rule := range LimitRules() {
		if seen[rule.Limit] {
			t.Errorf("%s has two rules", rule.Limit)
		}
		seen[rule.Limit] = true
		if rule.Default < rule.Min || rule.Default > rule.Max {
			t.Errorf("%s: the default %v is outside %v to %v", rule.Limit, rule.Default, rule.Min, rule.Max)
		}
		if rule.Unit == "" || rule.Source == "" || rule.Rule == "" {
			t.Errorf("%s lacks its unit, source or rule", rule.Limit)
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

func TestLimits_Of_noRule(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a limit without a rule must not pass for 0")
		}
	}()
	Limits{}.Of("tide_mm")
}
