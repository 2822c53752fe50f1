package calc

import "example.com/dough/doughmath"

func temperatureEntries() []Entry {
	return []Entry{
		ask[doughmath.TargetTemperature]("What temperature is usual for this kind of dough?",
			`{"dough_type":"pizza-dough"}`),
		ask[doughmath.WaterTemperature]("How warm must the water be for the dough temperature I want?",
			`{"target_temp":"26 °C","flour_temp":"21 °C","room":"23 °C","friction":"14 C°","friction_basis":"once"}`,
			"dough-temperature-for-water", "friction-factor"),
		ask[doughmath.DoughTemperatureForWater]("How warm will the dough be with this water?",
			`{"water_temp":"18 °C","flour_temp":"21 °C","room":"23 °C","friction":"14 C°","friction_basis":"once","yeast":"instant-dry","yeast_step":"own-water"}`,
			"water-temperature", "friction-factor"),
		ask[doughmath.FrictionFactor]("What friction factor does this batch show?",
			`{"dough_temp":"26 °C","water_temp":"18 °C","flour_temp":"21 °C","room":"23 °C"}`,
			"water-temperature", "dough-temperature-for-water"),
		ask[doughmath.FrictionLog]("What friction does my log predict for the next batch, and how sure is that?",
			`{"log":[{"mixer":"spiral","day":"mon","batch_size":"120 kg","time":"6 min","dough_temp":"26.1 °C","water_temp":"15 °C","flour_temp":"21 °C","room":"23 °C"},`+
				`{"mixer":"spiral","day":"mon","batch_size":"120 kg","time":"8 min","dough_temp":"27.2 °C","water_temp":"15 °C","flour_temp":"21 °C","room":"23 °C"},`+
				`{"mixer":"spiral","day":"tue","batch_size":"80 kg","time":"6 min","dough_temp":"25.5 °C","water_temp":"14 °C","flour_temp":"20 °C","room":"22 °C"},`+
				`{"mixer":"spiral","day":"tue","batch_size":"80 kg","time":"9 min","dough_temp":"27.0 °C","water_temp":"14 °C","flour_temp":"20 °C","room":"23 °C"},`+
				`{"mixer":"spiral","day":"wed","batch_size":"120 kg","time":"7 min","dough_temp":"26.9 °C","water_temp":"15 °C","flour_temp":"22 °C","room":"23 °C"},`+
				`{"mixer":"spiral","day":"wed","batch_size":"100 kg","time":"7 min","dough_temp":"26.6 °C","water_temp":"15 °C","flour_temp":"21 °C","room":"24 °C"},`+
				`{"mixer":"planetary","day":"wed","batch_size":"40 kg","time":"9 min","dough_temp":"28.0 °C","water_temp":"12 °C","flour_temp":"21 °C","room":"24 °C"}],`+
				`"mixer":"spiral","model":"time","batch_size":"110 kg","time":"7 min","confidence":"90 %",`+
				`"first_batch":{"mixer":"spiral","batch_size":"110 kg","time":"7 min","dough_temp":"27.3 °C","water_temp":"15 °C","flour_temp":"21 °C","room":"24 °C"}}`,
			"friction-factor"),
		ask[doughmath.BaseTemperature]("What base temperature do I work to?",
			`{"target_temp":"24 °C","factors":3,"friction":"8 C°","friction_basis":"once"}`,
			"dough-temperature-for-base"),
		ask[doughmath.DoughTemperatureForBase]("What dough temperature does this base temperature give?",
			`{"base":"64 C°","factors":3,"friction":"8 C°","friction_basis":"once"}`,
			"base-temperature"),
		ask[doughmath.WaterForBase]("How warm must the water be today for my base temperature?",
			`{"base":"64 C°","flour_temp":"27 °C","room":"28 °C"}`,
			"base-for-water"),
		ask[doughmath.BaseForWater]("What base temperature did this batch have?",
			`{"water_temp":"9 °C","flour_temp":"27 °C","room":"28 °C"}`,
			"water-for-base"),
		ask[doughmath.BaseCorrection]("The dough came out too warm or too cold: what base and what water do I use next time?",
			`{"base":"70 C°","factors":3,"water_temp":"15 °C","target_temp":"24 °C","got_temp":"26 °C"}`),
		ask[doughmath.Ice]("How much ice and how much water do I weigh out?",
			`{"water":"40 kg","tap":"18 °C","needed_temp":"4 °C","reading":"replacing"}`,
			"temperature-for-ice"),
		ask[doughmath.TemperatureForIce]("How cold does this much ice make the water?",
			`{"water":"40 kg","tap":"18 °C","ice":"5.7 kg","reading":"replacing"}`,
			"ice"),
		ask[doughmath.IceMelt]("Will this ice melt before mixing ends?",
			`{"ice_size":"2 mm","ice_temp":"-5 °C","around_temp":"20 °C","heat_transfer":"200 W/(m2 K)","time":"6 min"}`,
			"size-for-ice-melt", "transfer-for-ice-melt"),
		ask[doughmath.SizeForIceMelt]("How thick can the ice be and still melt in time?",
			`{"time":"6 min","ice_temp":"-5 °C","around_temp":"20 °C","heat_transfer":"200 W/(m2 K)"}`,
			"ice-melt"),
		ask[doughmath.TransferForIceMelt]("How well does heat reach the ice in my mixer?",
			`{"ice_size":"10 mm","melt":"4 min","ice_temp":"-5 °C","around_temp":"20 °C"}`,
			"ice-melt"),
		ask[doughmath.WaterMix]("How much water do I draw from the cold tap, and how much from the hot?",
			`{"water":"40 kg","wanted_temp":"27 °C","cold":"12 °C","hot":"55 °C"}`,
			"temperature-for-water-mix"),
		ask[doughmath.TemperatureForWaterMix]("How warm is the water when I mix these two?",
			`{"cold_water":"26 kg","cold":"12 °C","hot_water":"14 kg","hot":"55 °C"}`,
			"water-mix"),
		ask[doughmath.MixingHeat]("How warm will the dough be by the heat balance, and what does the factor rule say?",
			`{"ingredients":[{"kind":"bread-flour","mass":"100 kg","temp":"22 °C"},{"kind":"water","mass":"52 kg","temp":"14 °C"}],"specific_heats":"trade","hydration_heat":"15.1 kJ/kg",`+
				`"ice":"8 kg","ice_temp":"-6 °C","power":"15 kW","time":"5 min","cooling_energy":"200 kJ","bowl":{"mass":"300 kg","temp":"24 °C","specific_heat":"0.5 kJ/(kg K)"},"room":"25 °C","friction":"20 C°","friction_basis":"once"}`,
			"water-for-mixing-heat", "ice-for-mixing-heat", "work-for-mixing-heat"),
		ask[doughmath.WaterForMixingHeat]("How warm must the water be by the heat balance?",
			`{"ingredients":[{"kind":"bread-flour","mass":"100 kg","temp":"22 °C"},{"kind":"water","mass":"60 kg"},{"kind":"salt","mass":"2 kg","temp":"22 °C"}],"specific_heats":"composition","hydration_heat":"15.1 kJ/kg","work":"20 kJ/kg","target_temp":"26 °C"}`,
			"mixing-heat"),
		ask[doughmath.IceForMixingHeat]("How much ice do I need by the heat balance?",
			`{"ingredients":[{"kind":"bread-flour","mass":"100 kg","temp":"22 °C"},{"kind":"water","mass":"60 kg","temp":"15 °C"}],"specific_heats":"trade","hydration_heat":"15.1 kJ/kg","work":"40 kJ/kg","ice_temp":"-6 °C","target_temp":"26 °C","reading":"added"}`,
			"mixing-heat"),
		ask[doughmath.WorkForMixingHeat]("How much heat does my mixer really put into the dough?",
			`{"ingredients":[{"kind":"bread-flour","mass":"100 kg","temp":"22 °C"},{"kind":"water","mass":"60 kg","temp":"15 °C"}],"specific_heats":"trade","hydration_heat":"15.1 kJ/kg","dough_temp":"26.5 °C"}`,
			"mixing-heat"),
		ask[doughmath.WaterProperty]("What are the specific heat, density and heat content of water or ice?",
			`{"temperature":"20 °C","phase":"liquid"}`),
		ask[doughmath.DoughProperty]("What are the specific heat and the density of this dough?",
			`{"ingredients":[{"kind":"bread-flour","mass":"100 kg"},{"kind":"water","mass":"60 kg"},{"kind":"salt","mass":"2 kg"}],"temperature":"25 °C"}`),
		ask[doughmath.DoughDensity]("How dense is the dough with gas in it?",
			`{"gas_free":"1.27 g/ml","gas_free_from":"measured","gas":"10 %"}`,
			"gas-for-density"),
		ask[doughmath.GasForDensity]("How much gas is in the dough?",
			`{"gas_free":"1.27 g/ml","gas_free_from":"measured","density":"1.143 g/ml"}`,
			"dough-density"),
	}
}
