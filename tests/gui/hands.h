// The real window worked by xdotool as a person does: shell functions that find controls by their names in the file
// that `keep_places` writes.
#pragma once

#include "xvfb.h"

#include <doctest/doctest.h>

#include <string>

namespace holdtrue::test {

inline constexpr const char* hands = R"sh(
place() { awk -F'\t' -v name="$1" '$1 == name {print; exit}' "$ROOM/places" 2>/dev/null; }
shown() { case "$(place "$1")" in *enabled) return 0 ;; *) return 1 ;; esac; }
middle() { place "$1" | awk -F'\t' '{printf "%d %d", ($2+$4)/2, ($3+$5)/2}'; }
await() { # CONTROL [TENTHS]: whether it can be clicked before that time is over
    for try in $(seq "${2:-300}"); do
        shown "$1" && return 0
        sleep 0.1
    done
    return 1
}
missing() { echo "no control $1"; cat "$ROOM/places"; exit 9; }
at() { # CONTROL [NEXT]: clicks a control, again until NEXT can be clicked: a busy machine may miss a click
    await "$1" || missing "$1"
    for go in 1 2 3 4 5; do
        shown "$1" && xdotool mousemove $(middle "$1") sleep 0.3 mousedown 1 sleep 0.2 mouseup 1 sleep 0.4
        [ -n "${2:-}" ] || return 0
        await "$2" 50 && return 0
    done
    missing "$2"
}
press() { xdotool keydown "$1" sleep 0.25 keyup "$1" sleep 0.3; } # held for some frames, as a finger would
key() { # KEY NEXT: as `at`, for a key
    for go in 1 2 3 4 5; do
        press "$1"
        await "$2" 50 && return 0
    done
    missing "$2"
}
framed() { grep -w framed "$ROOM/places" 2>/dev/null; }
walk() { # KEY...: each but Return carries the keyboard's frame on
    for walked in "$@"; do
        before=$(framed)
        xdotool key "$walked"
        [ "$walked" = Return ] && continue
        for try in $(seq 20); do
            sleep 0.05
            [ "$(framed)" = "$before" ] || break
        done
    done
}
to() { # CONTROL [KEY]: Tab, or another key, carries the frame to it
    for go in $(seq 120); do
        place "$1" | grep -q -w framed && return 0
        walk "${2:-Tab}"
    done
    missing "frame about $1"
}
drag() { # FROM TO: takes hold of one control and lets go over another
    await "$1" || missing "$1"
    await "$2" || missing "$2"
    xdotool mousemove $(middle "$1") sleep 0.3 mousedown 1 sleep 0.2 mousemove_relative 0 6 sleep 0.2 \
        mousemove $(middle "$2") sleep 0.3 mousemove_relative 2 1 sleep 0.3 mouseup 1 sleep 0.4
}
begin() { # [SCRIPT]: opens the window, whose process is $window
    rm -f "$ROOM/places"
    "$PROGRAM" --script "$ROOM/${1:-script}" & window=$!
    trap 'kill -9 $window 2>/dev/null' EXIT
}
save_as() { # FILE: where the window asks for a file, whose offered name is chosen and so typed over
    xdotool type --delay 50 "$1"
    for go in 1 2 3 4 5; do
        press Return
        for try in $(seq 30); do
            [ -f "$1" ] && return 0
            sleep 0.1
        done
    done
    missing "$1"
}
leave() { # quits the window, whose process is $window, and says how it ended
    for go in 1 2 3 4 5; do
        kill -0 $window 2>/dev/null || break
        press ctrl+q
        sleep 2
    done
    ended
}
ended() { # says how the window ended
    wait $window
    echo "left with $?"
    trap - EXIT
}
)sh";

// Opens the window after the script's lines and works it by the shell's steps, which end with `leave` or `ended`.
inline void work(const Room& room, const std::string& script, const std::string& steps) {
    room.write("script", script + "keep_places '" + room.path("places") + "'\n");
    room.write("steps.sh", hands + ("begin\n" + steps));
    const Ran ran = room.on_a_screen("sh \"$ROOM/steps.sh\"");
    INFO(ran.output);
    REQUIRE(ran.exit_code == 0);
    CHECK(ran.output.find("left with 0") != std::string::npos);
}

} // namespace holdtrue::test
