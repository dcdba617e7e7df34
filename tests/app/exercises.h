// A session on a shipped exercise, with a configuration folder of its own.
#pragma once

#include "app/session/session.h"
#include "scratch_folder.h"

#include <doctest/doctest.h>

#include <chrono>
#include <filesystem>
#include <string>
#include <thread>
#include <vector>

namespace holdtrue::app::test {

inline std::filesystem::path shipped(const std::string& name) {
    return std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons" / "exercises" / name;
}

struct Desk {
    explicit Desk(const std::string& folder)
        : scratch("app_" + folder), places{std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "assets",
                                           std::filesystem::path(HOLDTRUE_SOURCE_DIR) / "lessons", scratch.path,
                                           scratch.path / "record.sqlite"} {}
    ScratchFolder scratch;
    Places places;
};

inline std::vector<int> passes_of(const weld::Plan& plan) {
    std::vector<int> passes;
    for (const weld::Move& move : plan.moves)
        if (const auto* weld = std::get_if<weld::WeldPass>(&move.what))
            passes.push_back(weld->pass);
    return passes;
}

// Waits for the worker; fails after a minute.
inline void finish(Session& session) {
    using namespace std::chrono_literals;
    for (int k = 0; k < 6000 && session.worker().busy(); ++k)
        std::this_thread::sleep_for(10ms);
    REQUIRE(!session.worker().busy());
    session.take_finished();
}

} // namespace holdtrue::app::test
