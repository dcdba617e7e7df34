#include "record/bundle.h"

#include "text/input_error.h"
#include "text/names.h"
#include "text/system_words.h"
#include "weld/plan.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cerrno>
#include <fstream>
#include <map>

namespace holdtrue::record {
namespace {

using text::worded;
using Json = nlohmann::json;
namespace fs = std::filesystem;

constexpr std::string_view format_name = "holdtrue.bundle/1", manifest_name = "manifest.json";

[[noreturn]] void refuse(const std::string& file, const text::Told& what,
                         const text::Told& fix = worded("ask for the file again, or make it anew")) {
    throw text::InputError(file, 0, what, fix);
}

const char* word_of(BundleKind kind) { return kind == BundleKind::hand_out ? "hand-out" : "hand-in"; }

// Of the manifest without the checksum itself; nlohmann::json keeps keys in alphabetical order.
std::string checksum_of(Json manifest) {
    manifest.erase("sha256");
    return sha256_hex(manifest.dump());
}

Json manifest_of(const Bundle& bundle) {
    Json files = Json::array();
    for (const PackedFile& file : bundle.files)
        files.push_back({{"name", file.name}, {"bytes", file.content.size()}, {"sha256", sha256_hex(file.content)}});
    Json manifest{{"format", format_name},
                  {"kind", word_of(bundle.kind)},
                  {"exercise", bundle.exercise},
                  {"program", bundle.program},
                  {"files", files}};
    if (bundle.kind == BundleKind::hand_in) {
        manifest["trainee"] = bundle.trainee;
        manifest["hints"] = bundle.hints;
        if (bundle.variant)
            manifest["variant"] = *bundle.variant;
    }
    manifest["sha256"] = checksum_of(manifest);
    return manifest;
}

std::string text_at(const Json& manifest, const char* key, const std::string& file) {
    const auto found = manifest.find(key);
    if (found == manifest.end() || !found->is_string() || found->get_ref<const std::string&>().size() > 200)
        refuse(file, {worded("its manifest has no sound \"{0}\""), {std::string(key)}});
    return found->get<std::string>();
}

int number_at(const Json& manifest, const char* key, int most, const std::string& file) {
    const auto found = manifest.find(key);
    if (found == manifest.end())
        return 0;
    if (!found->is_number_integer() || *found < 0 || *found > most)
        refuse(file, {worded("its manifest has no sound \"{0}\""), {std::string(key)}});
    return found->get<int>();
}

// Every file of the manifest is there as it says, and none besides.
void check_files(const Json& manifest, const std::vector<PackedFile>& files, const std::string& file) {
    const auto listed = manifest.find("files");
    if (listed == manifest.end() || !listed->is_array())
        refuse(file, worded("its manifest lists no files"));
    std::map<std::string, const PackedFile*> rest;
    for (const PackedFile& packed : files)
        rest[packed.name] = &packed;
    for (const Json& entry : *listed) {
        if (!entry.is_object())
            refuse(file, worded("its manifest lists something that is no file"));
        const std::string name = text_at(entry, "name", file);
        const auto found = rest.find(name);
        if (found == rest.end())
            refuse(file, worded("lacks a file that its manifest lists, or lists one twice"));
        if (text_at(entry, "sha256", file) != sha256_hex(found->second->content))
            refuse(file, {worded("{0} in it does not fit its checksum: it was changed or damaged on the way"), {name}});
        rest.erase(found);
    }
    if (!rest.empty())
        refuse(file, {worded("holds {0}, which its manifest does not list"), {rest.begin()->first}});
}

} // namespace

std::string bundle_bytes(const Bundle& bundle) {
    std::vector<PackedFile> files{{std::string(manifest_name), manifest_of(bundle).dump(1) + "\n"}};
    files.insert(files.end(), bundle.files.begin(), bundle.files.end());
    return pack(files);
}

Bundle parse_bundle(std::string_view bytes, const std::string& file) {
    Bundle bundle;
    bundle.files = unpack(bytes, file);
    const auto found = std::ranges::find(bundle.files, manifest_name, &PackedFile::name);
    if (found == bundle.files.end())
        refuse(file, worded("has no manifest.json: it is no hand-out or hand-in"));
    const Json manifest = Json::parse(found->content, nullptr, false);
    bundle.files.erase(found);
    if (!manifest.is_object())
        refuse(file, worded("its manifest is not JSON"));
    if (text_at(manifest, "format", file) != format_name)
        refuse(file, worded("is of a format that this program does not know"), worded("use a newer program"));
    if (text_at(manifest, "sha256", file) != checksum_of(manifest))
        refuse(file, worded("its manifest does not fit its checksum: it was changed or damaged on the way"));
    const std::string kind = text_at(manifest, "kind", file);
    if (kind != word_of(BundleKind::hand_out) && kind != word_of(BundleKind::hand_in))
        refuse(file, worded("is neither a hand-out nor a hand-in"));
    bundle.kind = kind == word_of(BundleKind::hand_out) ? BundleKind::hand_out : BundleKind::hand_in;
    bundle.exercise = text_at(manifest, "exercise", file);
    if (!text::is_name(bundle.exercise)) // a file's name is made of it
        refuse(file, {worded("its manifest has no sound \"{0}\""), {std::string("exercise")}});
    bundle.program = text_at(manifest, "program", file);
    if (bundle.kind == BundleKind::hand_in) {
        bundle.trainee = text_at(manifest, "trainee", file);
        bundle.hints = number_at(manifest, "hints", 100, file);
        if (manifest.contains("variant"))
            bundle.variant = number_at(manifest, "variant", weld::highest_variant, file);
    }
    check_files(manifest, bundle.files, file);
    return bundle;
}

Bundle read_bundle(const fs::path& file) {
    return parse_bundle(read_bounded(file, ArchiveLimits{}.archive_bytes), file.string());
}

const std::string& content_of(const Bundle& bundle, std::string_view name, const std::string& file) {
    const auto found = std::ranges::find(bundle.files, name, &PackedFile::name);
    if (found == bundle.files.end())
        refuse(file, {worded("lacks {0}"), {std::string(name)}});
    return found->content;
}

void write_files(const Bundle& bundle, const fs::path& folder) {
    std::error_code error;
    const bool there = fs::exists(fs::symlink_status(folder, error));
    if (there && (!fs::is_directory(folder, error) || !fs::is_empty(folder, error)))
        refuse(folder.string(), worded("is there already and not an empty folder"), worded("name a new folder"));
    // Beside the target first, so that it appears whole.
    const fs::path whole = fs::absolute(folder).lexically_normal();
    const fs::path target = whole.has_filename() ? whole : whole.parent_path();
    const fs::path aside = target.parent_path() / (target.filename().string() + ".unpacking");
    try {
        if (!fs::create_directory(aside))
            refuse(aside.string(), worded("is in the way"), worded("remove it and unpack again"));
        for (const PackedFile& file : bundle.files) {
            fs::create_directories((aside / file.name).parent_path());
            errno = 0;
            std::ofstream out(aside / file.name, std::ios::binary);
            out.write(file.content.data(), static_cast<std::streamsize>(file.content.size()));
            out.close();
            if (!out)
                throw fs::filesystem_error("cannot be written", aside / file.name,
                                           {errno != 0 ? errno : EIO, std::generic_category()});
        }
        fs::rename(aside, target);
    } catch (const fs::filesystem_error& failure) {
        fs::remove_all(aside, error);
        refuse(folder.string(), {worded("cannot be written: {0}"), {text::system_words(failure.code())}},
               worded("check that the folder above is there, that you may write to it, and the room on the disk"));
    }
}

void check_bundle_name(const fs::path& file, BundleKind kind) {
    const std::string ending(kind == BundleKind::hand_out ? hand_out_ending : hand_in_ending);
    const std::string name = file.filename().string();
    if (!name.ends_with(ending) || name == ending)
        throw text::InputError(file.string(), 0,
                               kind == BundleKind::hand_out ? worded("cannot be the name of a hand-out")
                                                            : worded("cannot be the name of a hand-in"),
                               {worded("name it NAME{0}"), {ending}});
}

} // namespace holdtrue::record
