#!/usr/bin/env bash
# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
#
# installed.sh PREFIX   what an installed tree holds beside the library: program, manual page, completions that complete.
set -euo pipefail
prefix=$1
fail() { echo "installed tree: $1"; exit 1; }
"$prefix/bin/brinewright" --version | grep -q "^brinewright " || fail "the program does not run"
zcat "$prefix/share/man/man1/brinewright.1.gz" >page.1
for words in "recipe solve" "batch plan" "serve"; do
  grep -q "^\.SS $words$" page.1 || fail "the manual page lacks $words"
done
if command -v groff >/dev/null; then
  groff -ww -man -Tutf8 -z page.1 2>warnings || fail "the manual page is not read"
  [ ! -s warnings ] || fail "the manual page: $(head -n 1 warnings)"
fi
for name in lato-ofl libcli11-dev libsundials-dev nlohmann-json3-dev libtomlplusplus-dev; do
  [ -s "$prefix/share/doc/brinewright/notices/$name.txt" ] || fail "no notice of $name"
done
source "$prefix/share/bash-completion/completions/brinewright"
completes() {  # completes EXPECTED WORD ...   what the last word may become
  local expected=$1
  shift
  COMP_WORDS=(brinewright "$@")
  COMP_CWORD=$#
  COMPREPLY=()
  _brinewright
  [ "${COMPREPLY[*]}" = "$expected" ] || fail "'$*' completes to '${COMPREPLY[*]}' and not to '$expected'"
}
completes "recipe" rec
completes "solve" recipe so
completes "--materials" recipe solve target.toml --mat
completes "--address" serve --ad
completes "material manual" ma
completes "" nonsense ""
grep -q "'recipe solve') next='" "$prefix/share/zsh/vendor-completions/_brinewright" || fail "no completions for zsh"
grep -q "^ExecStart=/usr/bin/brinewright serve" "$prefix/lib/systemd/system/brinewright.service" || fail "no unit for systemd"
