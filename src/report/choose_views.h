// From where a part is drawn, so that every pass is seen.
#pragma once

#include "report/view.h"

namespace holdtrue::report {

// The view that shows the passes best, then as many more, four in all at most, as show passes that those before hide.
std::vector<View> choose_views(const part::Part& part, const part::Mesh& mesh);

} // namespace holdtrue::report
