// Marks all plans and hand-ins of a folder against one exercise: in parallel, every plan for itself, so that one that
// cannot be read or welded becomes an entry with its problem and never stops the rest. The result does not depend on
// the number of threads or of ranks (parallel/communicator.h). With more than one rank mark_class() is collective, and
// all ranks must see the same folder.
#pragma once

#include "grading/exercise.h"
#include "grading/mark.h"
#include "parallel/communicator.h"
#include "weld/simulate.h"

#include <atomic>
#include <filesystem>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace holdtrue::record {

struct ClassEntry {
    std::filesystem::path file;
    text::Sentence problem; // why it could not be marked; empty if it was
    std::string trainee, plan_title;
    int variant = 0;     // of the exercise, in which it was marked
    int hints = 0;       // that counted
    text::Sentence note; // that the plan answers another variant than the name draws
    std::optional<grading::Mark> mark;
    std::vector<double> gauge_error; // gauge_count [m or rad]
    double bench_s = 0; // from the first move to the end of the last, as the mark counts it
    // Entries with the same cards, moves and predictions, whatever their variant, carry the number of the first of
    // them; -1: on its own.
    int same_as = -1;
    // The earlier entry of which it is a near copy (record/near_copy.h), and in what they differ; -1: of none, or it is
    // the same as another.
    int near_copy_of = -1;
    text::Sentence near_copy;
};

struct ClassMarks {
    std::vector<ClassEntry> entries;   // by file name
    std::vector<std::string> left_out; // of the folder: other folders, ending in "/", and files of other kinds
    bool orders_tell = false;          // some order holds so many choices that another like it would be a sign
    bool cancelled = false;
};

struct ClassOptions {
    weld::Options simulation;
    int threads = 0;                                // 0: as many as there are cores for this process
    parallel::Communicator* communicator = nullptr; // shares the plans out to ranks; null: this process alone
    // Told each entry of this process's share when all files are read, and again when it is marked: its index and
    // what is known of it. One call at a time, on any thread.
    std::function<void(std::size_t, const ClassEntry&)> on_entry = nullptr;
};
struct ClassProgress {
    std::atomic<int> done{0}, all{0}; // of this process's share
};

// Every .plan.toml and .handin.zip directly in the folder. `exercise` as written: each plan is marked in the variant
// that it answers. Throws text::InputError if the folder cannot be read, holds none, or is not the
// same on all ranks.
ClassMarks mark_class(const grading::Exercise& exercise, const std::filesystem::path& folder,
                      const ClassOptions& options = {}, ClassProgress* progress = nullptr, std::stop_token stop = {});

} // namespace holdtrue::record
