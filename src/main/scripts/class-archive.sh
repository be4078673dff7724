#!/usr/bin/env bash
#
# Lets the packaged service start sooner: keeps the classes of a start, read and linked, in an archive
# that the Java virtual machine maps into memory at the next (class data sharing).
#
#   class-archive.sh [APP [OUT]]   default target/quarkus-app, and the same folder; needs bash, a JDK
#
# Starts the service once, on an empty folder that is removed afterwards and with none of the settings of
# the caller, so that it sees neither the caller's database nor other servers. Leaves in OUT:
#
#   indwell.jsa      the archive, for this virtual machine and these jars; any other ignores it
#   indwell.options  to start with: java @OUT/indwell.options [COMMAND ...]
set -euo pipefail

app=$(cd "${1:-target/quarkus-app}" && pwd)
out=$(cd "${2:-$app}" && pwd)
java=${JAVA_HOME:+$JAVA_HOME/bin/}java
java=$(command -v "$java")

# What the build changed goes before what it was made of.
# Without an order of our own the archive would fit only where files happen to be listed alike.
LC_ALL=C
shopt -s nullglob
path=
for jar in "$app"/quarkus/transformed-bytecode.jar "$app"/quarkus/generated-bytecode.jar \
  "$app"/app/*.jar "$app"/lib/boot/*.jar "$app"/lib/main/*.jar; do
  if [ -e "$jar" ]; then path="${path:+$path:}$jar"; fi
done

work=$(mktemp -d)
pid=
cleanup() {
  if [ -n "$pid" ]; then kill -9 "$pid" 2>/dev/null || true; fi
  rm -rf "$work"
}
trap cleanup EXIT

# JVM warnings, such as of an archive that does not fit, belong where the log of the service goes.
cat > "$work/indwell.options" <<OPTIONS
-Xlog:all=off:stdout
-Xlog:all=warning:stderr
-Djava.util.logging.manager=org.jboss.logmanager.LogManager
-XX:SharedArchiveFile="$out/indwell.jsa"
-cp "$path"
indwell.boot.IndwellMain
OPTIONS

mkdir "$work/data"
cd "$work"
# The demo ward, so that the classes that record an event are among them.
env -i PATH="$PATH" INDWELL_DATA_DIR="$work/data" INDWELL_DEMO=true \
  QUARKUS_HTTP_HOST=localhost QUARKUS_HTTP_PORT=0 \
  "$java" -XX:ArchiveClassesAtExit="$work/indwell.jsa" -cp "$path" \
  -Djava.util.logging.manager=org.jboss.logmanager.LogManager \
  indwell.boot.IndwellMain > "$work/log" 2>&1 &
pid=$!

ready() {
  local port
  port=$(sed -n 's/.*Listening on: http:[^ ]*:\([0-9][0-9]*\).*/\1/p' "$work/log" | head -1)
  [ -n "$port" ] || return 1
  (
    exec 3<>"/dev/tcp/localhost/$port"
    printf 'GET /q/health/ready HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n' >&3
    read -r answer <&3
    [[ $answer == *' 200 '* ]]
  ) 2>/dev/null
}

for _ in $(seq 600); do
  if ready; then break; fi
  if ! kill -0 "$pid" 2>/dev/null; then break; fi
  sleep 0.2
done
if ! ready; then
  cat "$work/log" >&2
  echo "The service did not become ready; there is no archive." >&2
  exit 1
fi

kill -TERM "$pid"
wait "$pid" || true
pid=
if [ ! -s "$work/indwell.jsa" ]; then
  cat "$work/log" >&2
  echo "The virtual machine wrote no archive." >&2
  exit 1
fi
# A machine that maps half an archive dies of it, so it gets its name when it is whole.
cp "$work/indwell.jsa" "$out/indwell.jsa.new"
mv -f "$out/indwell.jsa.new" "$out/indwell.jsa"
cp "$work/indwell.options" "$out/indwell.options"
echo "java @$out/indwell.options"
