/* SPDX-License-Identifier: MIT */
#include "support/test.h"

#include "store/network.h"

#include <string.h>

struct kind_case {
	uint32_t file_system;
	const char *name;
};

/* Numbers as statfs(2) prints them: Linux man-pages, "Linux Programmer's Manual", statfs. */
static const struct kind_case of_networks[] = {
	{0x6969, "NFS"},
	{0x517B, "SMB"},
	{0xFE534D42, "SMB"},
	{0xFF534D42, "CIFS"},
	{0x564C, "NCP"},
	{0x5346414F, "AFS"},
	{0x73757245, "Coda"},
	{0x00C36400, "Ceph"},
	{0x01021997, "9p"},
	{0x65735546, "FUSE"},
};

/* ext4, xfs, btrfs, tmpfs, overlayfs, FAT, exFAT, NTFS, F2FS, a CD */
static const uint32_t of_this_computer[] = {0xEF53, 0x58465342, 0x9123683E, 0x01021994, 0x794C7630,
	0x4D44, 0x2011BAB0, 0x5346544E, 0xF2F52010, 0x9660};

static void a_network_is_known_by_its_number(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof of_networks / sizeof of_networks[0]; i++) {
		const char *name = network_kind(of_networks[i].file_system, false);
		assert_non_null(name);
		check_text(name, of_networks[i].name, of_networks[i].name);
	}
}

static void disks_and_sticks_are_none(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof of_this_computer / sizeof of_this_computer[0]; i++) {
		assert_null(network_kind(of_this_computer[i], true));
		assert_null(network_kind(of_this_computer[i], false));
	}
	assert_null(network_kind(0x65735546, true)); /* a stick behind FUSE */
}

static void nothing_is_said_of_what_is_not_there_or_in_memory(void **state)
{
	(void)state;
	char caution[NETWORK_CAUTION_SIZE] = "x";
	assert_false(network_caution("/no/such/log.bough", caution));
	check_text(caution, "", "not there");
	assert_false(network_caution("/proc/self/status", caution));
	check_text(caution, "", "of the kernel");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_network_is_known_by_its_number),
		cmocka_unit_test(disks_and_sticks_are_none),
		cmocka_unit_test(nothing_is_said_of_what_is_not_there_or_in_memory),
	};
	return cmocka_run_group_tests_name("network folders", tests, NULL, NULL) != 0;
}
