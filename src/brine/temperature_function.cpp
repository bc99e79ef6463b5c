// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/temperature_function.hpp"

namespace bw::brine {

template double evaluate(const ref::TemperatureFunction&, double);

}  // namespace bw::brine
