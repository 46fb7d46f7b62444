# SPDX-License-Identifier: GPL-3.0-or-later
# Release builds: what the compiler and the linker can put in the way of a slip in C, as far as it costs nothing that
# tests/bench can tell (within 1 %, gcc 12). Left out, as they cost one: -ftrivial-auto-var-init=zero, which clang 14
# does not take either, and -fzero-call-used-regs. Without the sanitizers, which look for themselves.
include(CheckCCompilerFlag)
include(CheckPIESupported)
check_pie_supported()
set(hardened $<AND:$<CONFIG:Release>,$<NOT:$<OR:$<BOOL:${RN_SANITIZE}>,$<BOOL:${RN_FUZZ}>>>>)

# The last is no defence but a gain of 1 to 3 %: nobody puts a function of his own in the place of one of the library
foreach(flag -fstack-protector-strong -fstack-clash-protection -fcf-protection=full -fno-semantic-interposition)
	string(MAKE_C_IDENTIFIER "RN_TAKES${flag}" takes)
	check_c_compiler_flag(${flag} ${takes})
	if(${takes})
		target_compile_options(rn_flags INTERFACE $<${hardened}:${flag}>)
	endif()
endforeach()
target_compile_options(rn_flags INTERFACE $<${hardened}:-U_FORTIFY_SOURCE> $<${hardened}:-D_FORTIFY_SOURCE=3>)
target_link_options(rn_flags INTERFACE $<${hardened}:-Wl,-z,relro,-z,now,-z,noexecstack>)
