# Sourced by tests/run and .ci/run: each part runs under `step`, and `finish` says how long it took and what failed.
table=$(mktemp)
failed=""
not_tried=77 # the exit status of a part that this machine cannot run; it says why, and counts neither way

said() { # said STATUS: in a word
  case $1 in 0) echo passed ;; "$not_tried") echo "not tried" ;; *) echo FAILED ;; esac
}

note() { # note WORDS...: told at the end, beneath the table
  printf '%s\n' "$*" >>"$table.notes"
}

step() { # step NAME COMMAND...: runs it, notes wall and processor seconds and whether it failed
  local name=$1 status=0
  shift
  printf '\n== %s: %.150s\n' "$name" "$*"
  { TIMEFORMAT='%R %U %S'; time "$@" 1>&3 2>&4; } 3>&1 4>&2 2>"$table.one" || status=$?
  awk -v name="$name" -v said="$(said "$status")" \
    '{ printf "%-22s %7.0f s %9.0f s   %s\n", name, $1, $2 + $3, said }' "$table.one" >>"$table"
  case $status in 0 | "$not_tried") ;; *) failed="$failed, $name" ;; esac
}

finish() { # the table; exit status 1 where a part failed
  [ ! -s "$table" ] || { printf '\n%-22s %9s %11s\n' part wall processor; cat "$table"; }
  [ ! -s "$table.notes" ] || { printf '\n'; cat "$table.notes"; }
  rm -f "$table" "$table.one" "$table.notes"
  [ -z "$failed" ] || { printf '\nfailed: %s\n' "${failed#, }"; exit 1; }
}
