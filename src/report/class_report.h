// The class report (PDF): how the marks lie, where the gauges lie, what was remarked most, and every plan's line.
#pragma once

#include "record/class_marking.h"
#include "report/sheet.h"

namespace holdtrue::report {

void save_class_report(const std::filesystem::path& path, const grading::Exercise& exercise,
                       const record::ClassMarks& marks, const SheetOptions& options = {});

} // namespace holdtrue::report
