# SPDX-License-Identifier: GPL-3.0-or-later
#
# Writes the endorsed cases into a C file: every NAME.xml that has a NAME.expect, as bytes.
#
#     cmake -DFOLDERS=A;B -DOUTPUT=FILE.c -P endorsed.cmake
set(bytes "")
set(rows "")
set(count 0)
foreach(folder ${FOLDERS})
	file(GLOB expectations ${folder}/*.expect)
	list(SORT expectations)
	foreach(expectation ${expectations})
		get_filename_component(name ${expectation} NAME_WE)
		set(row "	{\"${name}\"")
		foreach(suffix xml expect)
			file(READ ${folder}/${name}.${suffix} hex HEX)
			string(REGEX REPLACE "(..)" "0x\\1," hex "${hex}")
			string(APPEND bytes "static const char ${suffix}_${count}[] = {${hex}0};\n")
			string(APPEND row ", ${suffix}_${count}")
		endforeach()
		string(APPEND row ", sizeof xml_${count} - 1},\n")
		string(APPEND rows "${row}")
		math(EXPR count "${count} + 1")
	endforeach()
endforeach()
file(WRITE ${OUTPUT}.new "/* Made by endorsed.cmake of the files in tests/: not to be changed by hand. */
#include \"io/cli/endorsed.h\"

${bytes}
const rn_endorsed rn_endorsed_cases[] = {
${rows}};
const int rn_endorsed_count = ${count};
")
file(RENAME ${OUTPUT}.new ${OUTPUT})
