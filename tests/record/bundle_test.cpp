#include "grading/read_exercise.h"
#include "raw_zip.h"
#include "record/bundle.h"
#include "record/hand_in.h"
#include "record/hand_out.h"
#include "record/take_hint.h"
#include "scratch_folder.h"
#include "text/input_error.h"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

#include <fstream>

using namespace holdtrue;
using nlohmann::json;
using record::Bundle;
using record::BundleKind;
namespace fs = std::filesystem;

namespace {

const fs::path source = HOLDTRUE_SOURCE_DIR;

std::string complaint(const auto& call) {
    try {
        call();
    } catch (const text::InputError& error) {
        return error.what();
    }
    return "";
}

Bundle small() {
    Bundle bundle;
    bundle.kind = BundleKind::hand_in;
    bundle.exercise = "tee";
    bundle.trainee = "Ann";
    bundle.variant = 4;
    bundle.hints = 2;
    bundle.program = "0.1.0";
    bundle.files = {{"plan.plan.toml", "title = \"x\"\n"}, {"more.txt", "m"}};
    return bundle;
}

// The bundle with its manifest changed, and the manifest's own checksum put right where asked for.
std::string with_manifest(const std::function<void(json&)>& change, bool right_checksum = true) {
    auto files = record::unpack(record::bundle_bytes(small()), "b");
    json manifest = json::parse(files[0].content);
    change(manifest);
    if (right_checksum && manifest.is_object()) {
        manifest.erase("sha256");
        manifest["sha256"] = record::sha256_hex(manifest.dump());
    }
    files[0].content = manifest.dump();
    return record::pack(files);
}

std::string refusal(const std::string& bytes) {
    return complaint([&] { record::parse_bundle(bytes, "b.zip"); });
}

bool has(const std::string& text, const std::string& words) { return text.find(words) != std::string::npos; }

} // namespace

TEST_CASE("a bundle tells what it was made of") {
    const Bundle again = record::parse_bundle(record::bundle_bytes(small()), "b.zip");
    CHECK(again.kind == BundleKind::hand_in);
    CHECK(again.exercise == "tee");
    CHECK(again.trainee == "Ann");
    CHECK(again.variant == 4);
    CHECK(again.hints == 2);
    REQUIRE(again.files.size() == 2);
    CHECK(again.files[0].content == "title = \"x\"\n");
}

TEST_CASE("a bundle whose parts do not fit together is refused") {
    CHECK(refusal(with_manifest([](json&) {})).empty());
    CHECK(has(refusal(with_manifest([](json& m) { m["hints"] = 0; }, false)), "manifest does not fit its checksum"));
    CHECK(has(refusal(with_manifest([](json& m) { m["files"][0]["sha256"] = std::string(64, '0'); })),
              "does not fit its checksum"));
    CHECK(has(refusal(with_manifest([](json& m) { m["files"].erase(1); })), "does not list"));
    CHECK(has(refusal(with_manifest([](json& m) { m["files"].push_back(m["files"][0]); })), "lists one twice"));
    CHECK(has(refusal(with_manifest([](json& m) { m["files"][0]["name"] = "other"; })), "lacks a file"));
    CHECK(has(refusal(with_manifest([](json& m) { m["format"] = "holdtrue.bundle/2"; })), "newer program"));
    CHECK(has(refusal(with_manifest([](json& m) { m["kind"] = "gift"; })), "neither"));
    CHECK(has(refusal(with_manifest([](json& m) { m["variant"] = -1; })), "variant"));
    CHECK(has(refusal(with_manifest([](json& m) { m["variant"] = 1e9; })), "variant"));
    CHECK(has(refusal(with_manifest([](json& m) { m["hints"] = "none"; })), "hints"));
    CHECK(has(refusal(with_manifest([](json& m) { m["exercise"] = "../tee"; })), "exercise"));
    CHECK(has(refusal(with_manifest([](json& m) { m["trainee"] = std::string(1000, 'a'); })), "trainee"));
    CHECK(has(refusal(with_manifest([](json& m) { m["files"] = 3; })), "lists no files"));
    CHECK(has(refusal(with_manifest([](json& m) { m = 3; })), "not JSON"));
    CHECK(has(refusal(record::pack({{"a", "1"}})), "no manifest.json"));
    CHECK(has(refusal(record::pack({{"manifest.json", std::string(400'000, '[')}})), "not JSON"));
    // A mark in it is nothing that anybody reads.
    CHECK(refusal(with_manifest([](json& m) { m["mark"] = 100; })).empty());
}

TEST_CASE("unpacking writes all or nothing, into a folder of its own") {
    const ScratchFolder scratch("bundle");
    const fs::path folder = scratch.path / "out";
    record::write_files(small(), folder);
    CHECK(fs::file_size(folder / "plan.plan.toml") == 12);
    CHECK(has(complaint([&] { record::write_files(small(), folder); }), "not an empty folder"));
    fs::create_directory(scratch.path / "empty");
    record::write_files(small(), scratch.path / "empty/");
    CHECK(fs::exists(scratch.path / "empty/more.txt"));
    // A link is no folder of its own.
    fs::create_directory(scratch.path / "elsewhere");
    fs::create_directory_symlink(scratch.path / "elsewhere", scratch.path / "link");
    complaint([&] { record::write_files(small(), scratch.path / "link"); });
    CHECK(fs::is_empty(scratch.path / "elsewhere"));
    std::ofstream(scratch.path / "file") << "x";
    CHECK(has(complaint([&] { record::write_files(small(), scratch.path / "file"); }), "not an empty folder"));
    CHECK(!complaint([&] { record::write_files(small(), scratch.path / "no/such/folder"); }).empty());
    for (const auto& entry : fs::directory_iterator(scratch.path))
        CHECK(!has(entry.path().string(), ".unpacking"));
}

TEST_CASE("a hand-out holds all that the exercise needs, and gives the same exercise elsewhere") {
    const ScratchFolder scratch("handout");
    for (const auto& entry : fs::directory_iterator(source / "lessons/exercises")) {
        if (!entry.path().filename().string().ends_with(".exercise.toml"))
            continue;
        CAPTURE(entry.path().filename().string());
        const grading::Exercise exercise = grading::read_exercise(entry.path());
        const std::string bytes = record::bundle_bytes(record::hand_out(exercise, "0.1.0"));
        CHECK(bytes == record::bundle_bytes(record::hand_out(exercise, "0.1.0")));
        CHECK(!has(bytes, source.string())); // nothing of this machine
        const fs::path folder = scratch.path / exercise.name;
        record::write_files(record::parse_bundle(bytes, "b.zip"), folder);
        const grading::Exercise again = grading::read_exercise(folder / (exercise.name + ".exercise.toml"));
        CHECK(again.title == exercise.title);
        CHECK(again.variant_count == exercise.variant_count);
        CHECK(again.part->passes.size() == exercise.part->passes.size());
        CHECK(again.rules->rules().size() == exercise.rules->rules().size());
        CHECK(again.rules->folder().lexically_normal() == (folder / "rules").lexically_normal());
        CHECK(again.part->file.parent_path().lexically_normal() == folder.lexically_normal());
        for (std::size_t g = 0; g < again.part->gauges.size(); ++g)
            CHECK(again.part->gauges[g].tolerance == exercise.part->gauges[g].tolerance);
        const fs::path plan = folder / (exercise.name + ".start.plan.toml");
        weld::read_plan(plan, *again.part, *again.shop);
        CHECK(fs::equivalent(weld::exercise_of(plan), again.file));
        CHECK(fs::exists(folder / "READ_ME.txt"));
    }
}

TEST_CASE("a hand-in is read as what was handed in: its name, and the hints that count") {
    const ScratchFolder scratch("handin");
    const grading::Exercise exercise = grading::read_exercise(source / "lessons/exercises/tee_coupon.exercise.toml");
    const std::string plan = "trainee = \"Ann\"\nhints = 1\ntitle = \"mine\"\n";
    const weld::PlanHeading heading = weld::parse_heading(plan, "p");
    const auto save = [&](const char* name, const Bundle& bundle) {
        std::ofstream(scratch.path / name, std::ios::binary) << record::bundle_bytes(bundle);
        return scratch.path / name;
    };
    const fs::path file = save("a.handin.zip", record::hand_in(exercise, plan, heading, 3, "0.1.0"));
    const record::Submission submission = record::read_submission(file, exercise.name);
    CHECK(submission.plan_text == plan);
    CHECK(submission.heading.trainee == "Ann");
    CHECK(submission.heading.hints == 3); // the record knew of more than the plan says
    CHECK(has(complaint([&] { record::read_submission(file, "lap_strip"); }), "is a hand-in for exercise tee_coupon"));
    const fs::path out = save("b.handin.zip", record::hand_out(exercise, "0.1.0"));
    CHECK(has(complaint([&] { record::read_submission(out, exercise.name); }), "is a hand-out"));
    // A plan for another part: one line, not one for each name that this part does not have.
    const fs::path other = source / "lessons/exercises/rail_frame.model.plan.toml";
    const std::string misplaced =
        complaint([&] { record::plan_of(record::read_submission(other, exercise.name), exercise, "other.plan.toml"); });
    CHECK(has(misplaced, "is a plan for rail_frame.exercise.toml, not for tee_coupon.exercise.toml"));
    CHECK(!has(misplaced, "\n"));
    CHECK(!complaint([&] { record::check_bundle_name("x.zip", BundleKind::hand_in); }).empty());
    CHECK(complaint([&] { record::check_bundle_name("x.handin.zip", BundleKind::hand_in); }).empty());
}

TEST_CASE("a hint stays taken: the record remembers what the plan was made to forget") {
    const ScratchFolder scratch("hints");
    record::Record kept(scratch.path / "r.sqlite");
    const std::int64_t ann = kept.add_trainee("Ann").id, bob = kept.add_trainee("Bob").id;
    grading::Exercise exercise;
    exercise.name = "tee";
    exercise.hints = {{"first", 3}, {"second", 5}};
    int in_plan = 0;
    const record::TakenHint one = record::take_hint(exercise, in_plan, &kept, ann);
    CHECK(one.number == 1);
    CHECK(one.text == "first");
    CHECK(in_plan == 1);
    in_plan = 0; // taken out of the plan
    CHECK(record::hints_that_count(exercise, in_plan, &kept, ann) == 1);
    const record::TakenHint two = record::take_hint(exercise, in_plan, &kept, ann);
    CHECK(two.number == 2);
    CHECK(two.cost_so_far == doctest::Approx(8));
    CHECK(has(complaint([&] { record::take_hint(exercise, in_plan, &kept, ann); }), "all hints of the exercise"));
    CHECK(record::hints_that_count(exercise, 0, &kept, bob) == 0);
    CHECK(record::hints_that_count(exercise, 1, nullptr, 0) == 1);
    CHECK(record::hints_that_count(exercise, 99, nullptr, 0) == 2);
    kept.remove_trainee(ann); // with all of it
    CHECK(kept.hints_taken(ann, "tee") == 0);
    exercise.hints.clear();
    CHECK(has(complaint([&] { record::take_hint(exercise, in_plan, &kept, bob); }), "has no hints"));
}
