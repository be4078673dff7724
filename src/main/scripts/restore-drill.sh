#!/usr/bin/env bash
# Proves that a backup can be lived from: a service takes events without a pause, is backed up while it does, is
# killed, and another service is started on the backup alone. Prints what was acknowledged before the backup, and how
# much of that was found again. Exit 0 when nothing is lost.
#
#   restore-drill.sh [JAR]      default target/quarkus-app/quarkus-run.jar; needs bash, curl, a JDK
set -euo pipefail
jar=${1:-target/quarkus-app/quarkus-run.jar}
port=${DRILL_PORT:-18080}
work=$(mktemp -d)
service=
trap '[ -z "$service" ] || kill -9 "$service" 2> /dev/null || true; rm -rf "$work"' EXIT

start() { # FOLDER
  QUARKUS_HTTP_PORT=$port INDWELL_DATA_DIR=$1 java -jar "$jar" > "$work/service.log" 2>&1 &
  service=$!
  for _ in $(seq 240); do
    curl -sf "http://localhost:$port/q/health/ready" > /dev/null && return
    kill -0 "$service" || break
    sleep 0.5
  done
  cat "$work/service.log" >&2
  exit 2
}

insertion() { # NUMBER
  printf '{"source":"drill","eventId":"%s","type":"catheter-inserted","occurredAt":"2026-03-01T10:00:00Z",
    "patient":{"system":"urn:drill:patient","value":"P-%s"},"encounter":{"system":"urn:drill:stay","value":"S-%s"},
    "details":{"catheterId":"C-1","route":"urethral","sizeCh":16,"indication":"acute-retention"}}' "$1" "$1" "$1"
}

post() { # writes the numbers of what was acknowledged, until the service is gone
  local number=0
  while true; do
    number=$((number + 1))
    status=$(insertion "$number" | curl -s -o /dev/null -w '%{http_code}' -H 'Content-Type: application/json' \
      --data-binary @- "http://localhost:$port/events") || return 0
    [ "$status" = 201 ] && echo "$number" >> "$work/acknowledged"
  done
}

touch "$work/acknowledged"
start "$work/data"
post &
poster=$!
until [ "$(wc -l < "$work/acknowledged")" -ge 50 ]; do sleep 0.1; done

cp "$work/acknowledged" "$work/before"
java -jar "$jar" backup --data-dir "$work/data" "$work/backup.db"
kill -9 "$service"
wait "$poster" "$service" 2> /dev/null || true

mkdir "$work/restored"
cp "$work/backup.db" "$work/restored/indwell.db"
start "$work/restored"
found=0
while read -r number; do
  total=$(curl -s "http://localhost:$port/fhir/Procedure?identifier=https://indwell.example/fhir/event%7Cdrill:$number&_summary=count")
  case $total in *'"total":1'*) found=$((found + 1)) ;; esac
done < "$work/before"
kill "$service"
wait "$service" 2> /dev/null || true
service=

before=$(wc -l < "$work/before")
echo "acknowledged before the backup: $before; found after the restore: $found; lost: $((before - found))"
[ "$found" -eq "$before" ]
