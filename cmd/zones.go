package cmd

import _ "time/tzdata" // time zones by name, also where the system has none
