/* SPDX-License-Identifier: MIT */
/* man/boughbook-rules.7 speaks of every rule of the program, and of no other. */
#include "rules/rule.h"
#include "support/manual.h"
#include "support/test.h"

static const char page[] = "man/boughbook-rules.7";

static void add_rules(struct text_builder *out)
{
	text_add(out, ".Bl -tag -width Ds\n");
	for (const struct rule *rule = rule_table(); rule->id != NULL; rule++) {
		text_add_format(out, ".It Sy %s\n", rule->id);
		manual_add(out, rule->title);
		text_add_format(out, "; at most\n.Ql %s%s.\n.Pp\n", urgency_key(rule->max_urgency),
			rule->rests ? " ,\nsilent while the tree is left alone" : " ");
		manual_add(out, rule->reason);
		text_add(out, "\n.Pp\nSource: ");
		manual_add(out, rule->source);
		text_add(out, ".\n");
	}
	text_add(out, ".El\n");
}

static void rules_of_the_manual_are_the_programs(void **state)
{
	(void)state;
	check_manual_table(page, ".\\\" rules: made", ".\\\" rules: end", add_rules);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(rules_of_the_manual_are_the_programs),
	};
	return cmocka_run_group_tests_name("rules manual", tests, NULL, NULL) != 0;
}
