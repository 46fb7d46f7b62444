#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The library as another program meets it: what is installed, each header alone in C and C++, what the shared
library exports, and the examples of doc/library.md built against the installed files in each way there is.

usage: library.py BUILD SOURCE LIBDIR [--update]

LIBDIR as of CMake, "lib". --update writes solver/funicle.map and what the examples print.
"""
import glob
import os
import re
import subprocess
import sys
import tempfile

CC, CXX = os.environ.get("CC", "gcc"), os.environ.get("CXX", "g++")
WARNINGS = ["-Wall", "-Wextra", "-pedantic", "-Werror"]
COMMENT = re.compile(r"/\*.*?\*/|//[^\n]*", re.S)
DIRECTIVE = re.compile(r"^[ \t]*#(?:[^\n]*\\\n)*[^\n]*$", re.M)
BRACES = re.compile(r"\{[^{}]*\}")
FUNCTION = re.compile(r"\b(rn_\w+)\s*\(")
CONSTANT = re.compile(r"^\s*extern\b.*\b(rn_\w+)$", re.S)

wrong = []


def complain(text):
    wrong.append(text)
    print(text)


def run(words, **more):
    """Output of a command that must do well; None if it does not."""
    done = subprocess.run(words, text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=120, **more)
    if done.returncode != 0:
        complain(f"{' '.join(words)}: ends with {done.returncode}\n{done.stdout}")
        return None
    return done.stdout


# ---- what is installed -------------------------------------------------------------------------------

def listed(source, libdir):
    """Files of tests/installed.txt: a name a line, LIB for the folder of libraries; or, with a star, a folder of
    the source whose files of that ending stand there; two stars for the folders in it too."""
    for line in open(os.path.join(source, "tests/installed.txt"), encoding="utf-8"):
        words = line.split("#")[0].replace("LIB/", libdir + "/").split()
        if len(words) == 1:
            yield words[0]
        elif words:
            root = words[1].split("*")[0]
            for path in glob.glob(os.path.join(source, words[1]), recursive=True):
                yield words[0].split("*")[0] + os.path.relpath(path, os.path.join(source, root))


def found(prefix):
    for folder, _, names in os.walk(prefix):
        for name in names:
            yield os.path.relpath(os.path.join(folder, name), prefix)


def install(build, source, libdir, scratch):
    run(["cmake", "--install", build], env=dict(os.environ, DESTDIR=scratch))
    prefix = os.path.join(scratch, cached(build, "CMAKE_INSTALL_PREFIX").lstrip("/"))
    have, want = set(found(prefix)), set(listed(source, libdir))
    if len(list(found(scratch))) != len(have):
        complain("something is installed outside the prefix")
    for name in sorted(have - want):
        complain(f"installed and not in tests/installed.txt: {name}")
    for name in sorted(want - have):
        complain(f"in tests/installed.txt and not installed: {name}")
    return prefix


def cached(build, name):
    text = open(os.path.join(build, "CMakeCache.txt"), encoding="utf-8").read()
    return re.search(rf"^{name}:\w+=(.*)$", text, re.M).group(1)


# ---- headers and exports -----------------------------------------------------------------------------

def declared(header):
    """Functions and constants a header declares."""
    text = DIRECTIVE.sub("", COMMENT.sub(" ", open(header, encoding="utf-8").read()))
    text = text.replace('extern "C" {', "")
    while BRACES.search(text):
        text = BRACES.sub("", text)
    for statement in text.split(";"):
        function, constant = FUNCTION.search(statement), CONSTANT.match(statement)
        if "typedef" not in statement and (function or constant):
            yield (function or constant).group(1)


def headers_alone(include, headers):
    for header in headers:
        name = os.path.relpath(header, include)
        for words in ([CC, "-xc", "-std=c99"], [CC, "-xc", "-std=c11"], [CXX, "-xc++", "-std=c++17"]):
            run([*words, *WARNINGS, "-fsyntax-only", "-I", include, "-"],
                input=f'#include "{name}"\n#include "{name}"\nextern int nothing;\n')


def exported(library):
    output = run(["nm", "-D", "--defined-only", library]) or ""
    return {line.split()[2] for line in output.splitlines()}


def write_map(path, names):
    text = open(path, encoding="utf-8").read()
    lines = "".join(f"\t{name};\n" for name in sorted(names))
    open(path, "w", encoding="utf-8").write(re.sub(r"global:\n.*local:", lambda _: f"global:\n{lines}local:", text, flags=re.S))


def exports(library, names, map_path, update):
    if update:
        write_map(map_path, names)
    mapped = set(re.findall(r"^\t(rn_\w+);$", open(map_path, encoding="utf-8").read(), re.M))
    for what, other in (("solver/funicle.map (library.py --update writes it)", mapped),
                        ("the shared library", exported(library))):
        for name in sorted(names - other):
            complain(f"declared in a public header, not in {what}: {name}")
        for name in sorted(other - names):
            complain(f"in {what}, not declared in a public header: {name}")


CALLER = """
static_assert(RN_VERSION_AT_LEAST(RN_VERSION_MAJOR, RN_VERSION_MINOR, RN_VERSION_PATCH), "itself");
static_assert(RN_VERSION_MAJOR == 0 || RN_VERSION_AT_LEAST(RN_VERSION_MAJOR - 1, 999, 999), "an older one");
static_assert(!RN_VERSION_AT_LEAST(RN_VERSION_MAJOR, RN_VERSION_MINOR, RN_VERSION_PATCH + 1), "a newer one");
static_assert(!RN_VERSION_AT_LEAST(RN_VERSION_MAJOR, RN_VERSION_MINOR + 1, 0), "a newer one");
int main()
{
	const void *all[] = {%s};
	for (const void *one : all)
		if (!one)
			return 1;
	return std::strcmp(rn_version_text(), RN_VERSION_TEXT) != 0;
}
"""


def callable_from_cpp(include, headers, names, flags, scratch, library_folder):
    """Every name as C++ sees it must be one the library has: extern "C" is nowhere missing. The library is of the
    version of its headers."""
    path = os.path.join(scratch, "all.cpp")
    with open(path, "w", encoding="utf-8") as f:
        f.write("#include <cstring>\n")
        f.writelines(f'#include "{os.path.relpath(header, include)}"\n' for header in headers)
        f.write(CALLER % ", ".join(f"(const void *)&{name}" for name in sorted(names)))
    if run([CXX, "-std=c++17", path, "-o", path + ".out", *flags]) is not None:
        run([path + ".out"], env=dict(os.environ, LD_LIBRARY_PATH=library_folder))


# ---- the examples of the page ------------------------------------------------------------------------

EXAMPLE = re.compile(r"^```c\n(.*?)^```$(.*?)^```text\n(.*?)^```$", re.M | re.S)


def pkg_config(prefix, libdir, *words):
    path = os.path.join(prefix, libdir, "pkgconfig")
    output = run(["pkg-config", *words, "funicle"], env=dict(os.environ, PKG_CONFIG_PATH=path))
    return (output or "").split()


def build_ways(code, prefix, libdir, scratch):
    """The program built with pkg-config, shared and static; their paths."""
    source = os.path.join(scratch, "example.c")
    open(source, "w", encoding="utf-8").write(code)
    shared, static = os.path.join(scratch, "shared"), os.path.join(scratch, "static")
    command = [CC, "-std=c11", *WARNINGS, source]
    run([*command, "-o", shared, *pkg_config(prefix, libdir, "--cflags", "--libs"), "-lm"])
    libraries = pkg_config(prefix, libdir, "--static", "--cflags", "--libs")
    run([*command, "-o", static, *["-l:libfunicle.a" if word == "-lfunicle" else word for word in libraries]])
    return [shared, static]


CONSUMER = """cmake_minimum_required(VERSION 3.25)
project(consumer LANGUAGES C)
find_package(funicle {version} REQUIRED)
if(NOT funicle_VERSION VERSION_EQUAL {version})
	message(FATAL_ERROR "found ${{funicle_VERSION}}")
endif()
add_executable(consumer example.c)
target_link_libraries(consumer PRIVATE funicle::funicle m)
"""

REFUSED = """set(PACKAGE_FIND_VERSION 9.9)
set(PACKAGE_FIND_VERSION_MAJOR 9)
set(PACKAGE_FIND_VERSION_MINOR 9)
set(CMAKE_SIZEOF_VOID_P 8)
include({path})
if(PACKAGE_VERSION_COMPATIBLE)
	message(FATAL_ERROR "taken for 9.9")
endif()
"""


def build_by_cmake(prefix, scratch, version):
    """The same by find_package; a version that it is not must be refused."""
    with open(os.path.join(scratch, "CMakeLists.txt"), "w", encoding="utf-8") as f:
        f.write(CONSUMER.format(version=version))
    build = os.path.join(scratch, "by-cmake")
    run(["cmake", "-S", scratch, "-B", build, f"-DCMAKE_PREFIX_PATH={prefix}", f"-DCMAKE_C_COMPILER={CC}"])
    run(["cmake", "--build", build])
    other = os.path.join(scratch, "other.cmake")
    with open(other, "w", encoding="utf-8") as f:
        f.write(REFUSED.format(path=glob.glob(prefix + "/**/funicle-config-version.cmake", recursive=True)[0]))
    run(["cmake", "-P", other])
    return os.path.join(build, "consumer")


def examples(page, prefix, libdir, scratch, version, update):
    text = open(page, encoding="utf-8").read()
    environment = dict(os.environ, LD_LIBRARY_PATH=os.path.join(prefix, libdir))
    count = 0

    def check(match):
        nonlocal count
        count += 1
        code, between, shown = match.groups()
        ways = build_ways(code, prefix, libdir, scratch)
        if count == 1:
            ways.append(build_by_cmake(prefix, scratch, version))
        for way in ways:
            printed = run([way], env=environment) if os.path.exists(way) else None
            if printed != shown and not update:
                complain(f"{page}: example {count} ({os.path.basename(way)})\n--- shown\n{shown}--- printed\n{printed}")
        return f"```c\n{code}```{between}```text\n{printed or shown}```"

    new = EXAMPLE.sub(check, text)
    if count < 2:
        complain(f"{page}: {count} examples")
    if update:
        open(page, "w", encoding="utf-8").write(new)


def version_agrees(include, version):
    text = open(os.path.join(include, "solver/funicle.h"), encoding="utf-8").read()
    parts = [re.search(rf"#define RN_VERSION_{part} (\d+)", text).group(1) for part in ("MAJOR", "MINOR", "PATCH")]
    spelt = re.search(r'#define RN_VERSION_TEXT "(.*)"', text).group(1)
    if ".".join(parts) != version or spelt != version:
        complain(f"the project is {version}, its header says {'.'.join(parts)} and {spelt}")


def main():
    build, source, libdir = os.path.abspath(sys.argv[1]), os.path.abspath(sys.argv[2]), sys.argv[3]
    update = "--update" in sys.argv
    version = cached(build, "CMAKE_PROJECT_VERSION")
    with tempfile.TemporaryDirectory() as scratch:
        prefix = install(build, source, libdir, scratch)
        include = os.path.join(prefix, "include/funicle")
        headers = sorted(glob.glob(include + "/**/*.h", recursive=True))
        names = {name for header in headers for name in declared(header)}
        version_agrees(include, version)
        headers_alone(include, headers)
        exports(os.path.join(prefix, libdir, "libfunicle.so"), names, os.path.join(source, "solver/funicle.map"), update)
        flags = pkg_config(prefix, libdir, "--cflags", "--libs")
        callable_from_cpp(include, headers, names, flags, scratch, os.path.join(prefix, libdir))
        examples(os.path.join(source, "doc/library.md"), prefix, libdir, scratch, version, update)
    print(f"{len(headers)} headers, {len(names)} names, {len(wrong)} complaints")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
