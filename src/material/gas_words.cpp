#include "material/gas_words.h"

namespace holdtrue::material {

std::string with_group(const GasMixture& gas) {
    const std::string group = iso_14175_group(gas);
    return in_words(gas) + (group.empty() ? "" : " (ISO 14175 " + group + ")");
}

} // namespace holdtrue::material
